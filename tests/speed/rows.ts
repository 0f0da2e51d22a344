import { REGRESSION_ROWS } from './regression-rows';
import type { SpeedRow } from './speed-row';
import { SURVIVAL_ROWS } from './survival-rows';
import { WEIGHTING_ROWS } from './weighting-rows';

/** Every line of the table, in its order. */
export const ROWS: readonly SpeedRow[] = [...SURVIVAL_ROWS, ...REGRESSION_ROWS, ...WEIGHTING_ROWS];
