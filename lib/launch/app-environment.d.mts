import type { Keys } from './keys.mjs';

type Environment = Record<string, string | undefined>;

export function appEnvironment(given: {
  env: Environment;
  appUrl: string;
  keys: Keys;
  isProduction: boolean;
  address: string;
}): Environment;
