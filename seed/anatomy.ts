import type { VeinRing } from '../lib/registry/lesion-vocabulary';
import type { RandomStream } from './random';

/** The pulmonary veins of one left atrium. */
export interface Anatomy {
  readonly left: readonly VeinRing[];
  readonly right: readonly VeinRing[];
}

/**
 * Draws a left atrium. Shares follow published computed-tomography series of AF patients: common left ostium 8 to 9 %,
 * common right about 1 %, right middle vein 13 to 19 %, a right top vein 4 %, an additional left vein 2 %.
 */
export function drawAnatomy(stream: RandomStream): Anatomy {
  const [commonLeft, extraLeft, commonRight, middle, top] = [0.085, 0.02, 0.008, 0.15, 0.04].map((share) =>
    stream.happens(share),
  );
  const left: VeinRing[] = commonLeft ? ['lcpv'] : ['lspv', 'lipv'];
  if (extraLeft && !commonLeft) left.push('accessory');
  const right: VeinRing[] = commonRight ? ['rcpv'] : ['rspv', 'ripv'];
  if (middle && !commonRight) right.push('rmpv');
  if (top) right.push('right-top');
  return { left, right };
}

export const veinsOf = ({ left, right }: Anatomy): VeinRing[] => [...left, ...right];
