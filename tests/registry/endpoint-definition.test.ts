import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkEndpointRules } from '@/lib/registry/endpoint-contradictions';
import { type EndpointRules, endpointRulesSchema } from '@/lib/registry/endpoint-definition';
import { ENDPOINT_PRESETS } from '@/lib/registry/endpoint-presets';
import { endpointRuleFields } from '@/lib/registry/endpoint-rules';
import { describeEndpoint, describeRules, freedomNoun } from '@/lib/registry/endpoint-sentence';
import { BASE } from './time-to-event-truth-table';

const preset = (code: string): EndpointRules => {
  const found = ENDPOINT_PRESETS.find((one) => one.code === code);
  if (!found) throw new Error(`no preset ${code}`);
  return found.rules;
};

/** Every choice of every list, a few numbers: contradictory ones included. */
const anyRules: fc.Arbitrary<EndpointRules> = fc.record({
  start: fc.constantFrom(...endpointRuleFields.shape.start.options),
  blankingDays: fc.constantFrom(0, 1, 30, 90, 365),
  blankingEndInclusive: fc.boolean(),
  minimumSeconds: fc.constantFrom(0, 10, 30, 86_400),
  comparator: fc.constantFrom(...endpointRuleFields.shape.comparator.options),
  wholeTracingCounts: fc.boolean(),
  rhythms: fc.constantFrom(...endpointRuleFields.shape.rhythms.options),
  confirmedTypicalFlutterExempt: fc.boolean(),
  symptomaticOnly: fc.boolean(),
  drugRule: fc.constantFrom(...endpointRuleFields.shape.drugRule.options),
  repeatRule: fc.constantFrom(...endpointRuleFields.shape.repeatRule.options),
  cardioversionCounts: fc.boolean(),
  deathRule: fc.constantFrom(...endpointRuleFields.shape.deathRule.options),
  evidenceForFreedom: fc.constantFrom(...endpointRuleFields.shape.evidenceForFreedom.options),
});

const findings = (changed: Partial<EndpointRules>) =>
  checkEndpointRules({ ...BASE, ...changed }).map(({ kind, field }) => `${kind} ${field}`);

describe('contradictory rules', () => {
  it.each([
    ['a new start at a first procedure', { repeatRule: 'new-start' }, ['refusal repeatRule']],
    [
      'a new start at each procedure',
      { start: 'each-procedure', repeatRule: 'new-start' },
      ['refusal repeatRule'],
    ],
    [
      'a repeat as failure after the last procedure',
      { start: 'last-procedure', repeatRule: 'failure' },
      ['refusal repeatRule'],
    ],
    [
      'a repeat as censoring after the last procedure',
      { start: 'last-procedure', repeatRule: 'censoring' },
      ['refusal repeatRule'],
    ],
    [
      'flutter exempt when only AF counts',
      { rhythms: 'af', confirmedTypicalFlutterExempt: true },
      ['refusal confirmedTypicalFlutterExempt'],
    ],
    [
      'freedom shown by recordings that can never show the event',
      { minimumSeconds: 86_400, wholeTracingCounts: false },
      ['refusal evidenceForFreedom'],
    ],
    [
      'two contradictions at once are both named',
      { repeatRule: 'new-start', rhythms: 'af', confirmedTypicalFlutterExempt: true },
      ['refusal repeatRule', 'refusal confirmedTypicalFlutterExempt'],
    ],
    ['new start from the last procedure', { start: 'last-procedure', repeatRule: 'new-start' }, []],
    ['each procedure, the next is failure', { start: 'each-procedure', repeatRule: 'failure' }, []],
    [
      '24 h episodes, shown by recordings of 24 h',
      { minimumSeconds: 86_400, wholeTracingCounts: false, evidenceForFreedom: '24h' },
      [],
    ],
    [
      'nothing blanked at all is only doubtful',
      { blankingDays: 0, blankingEndInclusive: false },
      ['warning blankingEndInclusive'],
    ],
    ['day 0 blanked is not', { blankingDays: 0 }, []],
    [
      'ECGs that cannot end freedom are only doubtful',
      { wholeTracingCounts: false },
      ['warning wholeTracingCounts'],
    ],
  ] satisfies [string, Partial<EndpointRules>, string[]][])('%s', (_what, changed, expected) => {
    expect(findings(changed)).toEqual(expected);
  });

  it('never parse, and are refused under the field and with the reason that the check gives', () => {
    fc.assert(
      fc.property(anyRules, (rules) => {
        const refused = checkEndpointRules(rules).filter((finding) => finding.kind === 'refusal');
        const parsed = endpointRulesSchema.safeParse(rules);
        const issues = parsed.success ? [] : parsed.error.issues;
        expect(issues.map((issue) => [issue.path.join('.'), issue.message])).toEqual(
          refused.map((finding) => [finding.field, finding.message]),
        );
      }),
      { numRuns: 2000, seed: 20_260_105 },
    );
  });

  it('leave every start at least one repeat rule, and every repeat rule a start', () => {
    const { start, repeatRule } = endpointRuleFields.shape;
    const allowed = start.options.flatMap((from) =>
      repeatRule.options
        .filter((repeat) => findings({ start: from, repeatRule: repeat }).length === 0)
        .map((repeat) => `${from} ${repeat}`),
    );
    expect(allowed).toEqual([
      'first-procedure failure',
      'first-procedure censoring',
      'last-procedure new-start',
      'each-procedure failure',
      'each-procedure censoring',
    ]);
  });
});

describe('the schema of rules', () => {
  it.each([
    ['blankingDays', 366],
    ['blankingDays', -1],
    ['blankingDays', 90.5],
    ['blankingDays', '90'],
    ['minimumSeconds', 86_401],
    ['minimumSeconds', -1],
    ['comparator', 'exactly'],
    ['start', 'second-procedure'],
    ['evidenceForFreedom', 'contact'],
    ['symptomaticOnly', 'no'],
  ])('refuses %s = %j under its field', (field, value) => {
    const parsed = endpointRulesSchema.safeParse({ ...BASE, [field]: value });
    expect(parsed.success ? [] : parsed.error.issues.map((issue) => issue.path.join('.'))).toEqual([field]);
  });
  it('refuses a rule it does not know and a rule that is missing', () => {
    expect(endpointRulesSchema.safeParse({ ...BASE, monitoring: 'dense' }).success).toBe(false);
    const { deathRule: _left, ...rest } = BASE;
    expect(endpointRulesSchema.safeParse(rest).success).toBe(false);
  });
});

describe('presets', () => {
  it('can all be stored as they are, without doubt, under different names', () => {
    for (const { rules } of ENDPOINT_PRESETS) {
      expect(endpointRulesSchema.parse(rules)).toEqual(rules);
      expect(checkEndpointRules(rules)).toEqual([]);
    }
    for (const key of ['code', 'name'] as const) {
      expect(new Set(ENDPOINT_PRESETS.map((one) => one[key])).size).toBe(ENDPOINT_PRESETS.length);
    }
  });
  it('begin with the consensus: 90 days, any AF, AT or AFL of 30 s or more, off drugs, one procedure', () => {
    expect(ENDPOINT_PRESETS[0].rules).toMatchObject({
      start: 'first-procedure',
      blankingDays: 90,
      blankingEndInclusive: true,
      minimumSeconds: 30,
      comparator: 'at-least',
      rhythms: 'af-at-afl',
      drugRule: 'must-be-off',
    });
  });
  it.each([
    ['blanking-8-weeks', { blankingDays: 56 }],
    ['af-alone', { rhythms: 'af' }],
    ['on-or-off-drugs', { drugRule: 'ignored' }],
    ['multiple-procedures', { start: 'last-procedure', repeatRule: 'new-start' }],
    ['symptomatic', { symptomaticOnly: true }],
  ] satisfies [string, Partial<EndpointRules>][])('%s changes one thing of it', (code, changed) => {
    expect(preset(code)).toEqual({ ...preset('consensus-2017'), ...changed });
  });
  it('mark what is from memory', () => {
    const note = ENDPOINT_PRESETS.find((one) => one.code === 'blanking-8-weeks')?.note ?? '';
    expect(note).toMatch(/from memory, confirm/i);
  });
});

describe('the sentence on figures', () => {
  const definition = { id: '1', name: 'Consensus 2017', versionNumber: 3, madeOn: '2026-01-02', note: null };
  it('reads as printed', () => {
    expect(describeEndpoint({ ...definition, rules: preset('consensus-2017') })).toBe(
      'Consensus 2017, version 3: any AF, AT or AFL of 30 s or more, after 90 days, off class I and III drugs, one procedure',
    );
  });
  it.each([
    ['af-alone', 'any AF of 30 s or more, after 90 days, off class I and III drugs, one procedure'],
    ['on-or-off-drugs', 'any AF, AT or AFL of 30 s or more, after 90 days, on or off drugs, one procedure'],
    [
      'multiple-procedures',
      'any AF, AT or AFL of 30 s or more, after 90 days, off class I and III drugs, from the last procedure',
    ],
    [
      'symptomatic',
      'symptomatic AF, AT or AFL of 30 s or more, after 90 days, off class I and III drugs, one procedure',
    ],
  ])('%s', (code, sentence) => {
    expect(describeRules(preset(code))).toBe(sentence);
  });
  it('says every rule that is not the usual one', () => {
    expect(
      describeRules({
        ...BASE,
        start: 'each-procedure',
        blankingEndInclusive: false,
        comparator: 'more-than',
        wholeTracingCounts: false,
        confirmedTypicalFlutterExempt: true,
        symptomaticOnly: true,
        drugRule: 'resumption-is-failure',
        cardioversionCounts: true,
        deathRule: 'competing',
        evidenceForFreedom: '7d',
      }),
    ).toBe(
      'symptomatic AF, AT or AFL (not confirmed typical flutter) of more than 30 s (a whole tracing alone does not count), from day 90, starting a class I or III drug is failure, cardioversion is failure, each procedure, censored at the next, death competes, freedom shown by recordings of 7 days or longer',
    );
  });
  it('never reads the same for different rules', () => {
    const allowed = anyRules.filter((rules) => endpointRulesSchema.safeParse(rules).success);
    const rulesBySentence = new Map<string, string>();
    fc.assert(
      fc.property(allowed, (rules) => {
        const key = JSON.stringify(Object.entries(rules).sort());
        const sentence = describeRules(rules);
        expect(rulesBySentence.get(sentence) ?? key).toBe(key);
        rulesBySentence.set(sentence, key);
      }),
      { numRuns: 20_000, seed: 20_260_106 },
    );
  });
});

describe('what figures say a case is free of', () => {
  it.each([
    [{}, 'free of arrhythmia'],
    [{ deathRule: 'competing' }, 'free of arrhythmia'],
    [{ drugRule: 'must-be-off' }, 'free of failure'],
    [{ drugRule: 'resumption-is-failure' }, 'free of failure'],
    [{ repeatRule: 'failure' }, 'free of failure'],
    [{ cardioversionCounts: true }, 'free of failure'],
    [{ deathRule: 'failure' }, 'free of failure'],
    [{ start: 'last-procedure', repeatRule: 'new-start' }, 'free of arrhythmia'],
  ] satisfies [Partial<EndpointRules>, string][])('%j: %s', (changed, noun) => {
    expect(freedomNoun({ ...BASE, ...changed })).toBe(noun);
  });
});
