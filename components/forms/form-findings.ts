import { type Finding, refusal } from '@/lib/registry/findings';

/** Flattens react-hook-form's tree of errors into findings by path; the DOM nodes in it are not followed. */
export function findingsOfErrors(errors: unknown, path = ''): Finding[] {
  if (typeof errors !== 'object' || errors === null) return [];
  const own =
    'message' in errors && typeof errors.message === 'string' && errors.message !== '' ? errors.message : '';
  const found = own === '' ? [] : [refusal(path.replace(/(^|\.)root(\.\w+)?$/, ''), own)];
  for (const [name, child] of Object.entries(errors)) {
    if (name === 'ref' || name === 'types') continue;
    found.push(...findingsOfErrors(child, path === '' ? name : `${path}.${name}`));
  }
  return found;
}

/** A finding with the place where it stands in the form, as shown in the summary. */
export interface PlacedFinding extends Finding {
  /** Legend of the inner group around the field, for example 'Recording 2'; '' for a field that stands once. */
  readonly group: string;
}

/** Findings in the order in which their fields stand on the page, those without a field first. */
export function placeFindings(form: HTMLElement, findings: readonly Finding[]): PlacedFinding[] {
  const fields = Array.from(form.querySelectorAll<HTMLElement>('[data-field]'));
  const placeOf = (finding: Finding) => fields.findIndex((field) => field.dataset.field === finding.field);
  return findings
    .map((finding) => {
      const place = placeOf(finding);
      const group =
        place < 0
          ? undefined
          : fields[place].closest<HTMLElement>('[data-group] [data-group]')?.dataset.group;
      return { place, placed: { ...finding, group: group ?? '' } };
    })
    .sort((a, b) => a.place - b.place)
    .map(({ placed }) => placed);
}

/** Puts the focus on the control of a field (the chosen or first one of several). False when the form has no such field. */
export function focusField(form: HTMLElement, name: string): boolean {
  const fields = Array.from(form.querySelectorAll<HTMLElement>('[data-field]'));
  const field = fields.find((candidate) => candidate.dataset.field === name);
  const control =
    field?.querySelector<HTMLElement>('input:checked, input:not([type="radio"]), select, textarea') ??
    field?.querySelector<HTMLElement>('input') ??
    field;
  control?.focus();
  return control !== undefined;
}
