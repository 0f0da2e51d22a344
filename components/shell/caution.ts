/** The whole caution: sign-in page, comparisons, every printed pack. */
export const CAUTION_FULL =
  'For quality review and research by licensed clinicians; it does not diagnose, treat, or advise on a single patient, ' +
  'and it defers to local codes, ethics rules and the judgement of the treating team. ' +
  'Observational comparisons do not prove effect.';

/** The one sentence under every page. */
export const CAUTION_SHORT =
  'For quality review and research by licensed clinicians. It does not diagnose or advise on a single patient and ' +
  'defers to local codes and the treating team.';
