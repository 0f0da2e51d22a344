/** What only the launcher may know: the app works with the lesser role and never sees these. */
const LAUNCHER_ONLY = [
  'DATABASE_OWNER_URL',
  'AFTERBEAT_DATA',
  'AFTERBEAT_DEMO_DATA',
  'AFTERBEAT_LAB_NAME',
  'HOST',
];

/**
 * The environment of the app and of the programs that work on its data.
 * @param {{ env: Record<string, string | undefined>, appUrl: string, keys: import('./keys.mjs').Keys, isProduction: boolean, address: string }} given
 *   address: where people open the app, unless NEXTAUTH_URL says otherwise
 * @returns {Record<string, string | undefined>}
 */
export function appEnvironment({ env, appUrl, keys, isProduction, address }) {
  const kept = Object.entries(env).filter(([name]) => !LAUNCHER_ONLY.includes(name));
  return {
    ...Object.fromEntries(kept),
    ...keys,
    DATABASE_URL: appUrl,
    NEXTAUTH_URL: env.NEXTAUTH_URL || address,
    AFTERBEAT_DEMO: isProduction ? '0' : '1',
    NODE_ENV: 'production',
    NEXT_TELEMETRY_DISABLED: '1',
  };
}
