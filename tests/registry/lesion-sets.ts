import { blankElement, type LesionElement } from '@/lib/registry/lesion-set';
import { segmentsOf } from '@/lib/registry/lesion-vocabulary';

/** Lesion sets as tests write them down. */
export const element = (
  structure: string,
  segment: string,
  facts: Partial<LesionElement> = {},
): LesionElement => ({
  ...blankElement(structure, segment),
  state: 'done',
  ...facts,
});

/** 0.80 to 0.08 mV: abated by its amplitude. */
export const ABATED = { distanceMm: 12, amplitudeBeforeUv: 800, amplitudeAfterUv: 80 };
export const OPEN = { distanceMm: 12, amplitudeBeforeUv: 800, amplitudeAfterUv: 200 };

/** A whole ring, each segment with the same facts but those that are named. */
export const ring = (
  structure: string,
  facts: Partial<LesionElement> = ABATED,
  except: Readonly<Record<string, Partial<LesionElement>>> = {},
): LesionElement[] =>
  segmentsOf(structure).map(({ code }) => element(structure, code, except[code] ?? facts));

export const line = (structure: string, facts: Partial<LesionElement> = {}): LesionElement =>
  element(structure, 'line', facts);

export const USUAL = ['lspv', 'lipv', 'rspv', 'ripv'];
