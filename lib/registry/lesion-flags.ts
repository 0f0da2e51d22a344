import { isLongApplication } from './abatement';
import { segmentLabel } from './forms/lesion-labels';
import { inWords, lowerFirst } from './in-words';
import { sideOfRing } from './lesion-anatomy';
import type { LesionSet, ShownStructure } from './lesion-set';
import { applicationsBySegment, type RfApplication } from './rf-applications';

/** Segments whose numbers no longer agree with the file of single applications they were filled from. */
export function disagreementsWithFile(
  shown: readonly ShownStructure[],
  applications: readonly RfApplication[],
): string[] {
  const segments = shown.flatMap((structure) => structure.segments);
  return applicationsBySegment(applications).flatMap((own) => {
    const set = segments.find(
      ({ structure, segment }) => structure === own.structure && segment === own.segment,
    );
    const told = set?.element.applications ?? 0;
    if (told === own.applications) return [];
    return [
      `${segmentLabel(own.structure, own.segment)}: ${own.applications} in the file of applications, ${told} in the set.`,
    ];
  });
}

/** What a person should look at again in a stored set: told, never blocked. */
export function lesionFlags(
  { energy }: Pick<LesionSet, 'energy'>,
  shown: readonly ShownStructure[],
): string[] {
  const segments = shown.flatMap((structure) => structure.segments);
  const long = segments
    .filter(({ element }) => isLongApplication(energy, element.longestSeconds))
    .map(
      ({ label, element }) => `${label}: one application of ${element.longestSeconds} s (longer than 60 s).`,
    );
  const lost = shown
    .filter((structure) => structure.isRecorded && !structure.isOffered)
    .map(({ label }) => `${label}: recorded, but this anatomy has no place for it. Check the veins.`);
  const vagal = segments.filter(({ element }) => element.vagalResponse === true).map(({ label }) => label);
  const reflexes = vagal.length === 0 ? [] : [`Vagal reflex at ${inWords(vagal.map(lowerFirst))}.`];
  return [...long, ...lost, ...bothRinged(shown), ...reflexes];
}

function bothRinged(shown: readonly ShownStructure[]): string[] {
  return (['left', 'right'] as const).flatMap((side) => {
    const done = shown.filter(
      ({ structure, segments }) =>
        sideOfRing(structure) === side && segments.some(({ element }) => element.state === 'done'),
    );
    const hasPair = done.some(({ kind }) => kind === 'pair-ring');
    return hasPair && done.length > 1
      ? [
          `The ${side} veins are ringed as a pair and by themselves (${inWords(done.map(({ label }) => lowerFirst(label)))}).`,
        ]
      : [];
  });
}
