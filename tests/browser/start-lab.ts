import { startLab } from './running-lab';

/**
 * One demo lab for the whole run; its address and data folder reach the tests by environment. Who writes tests may name a
 * lab that runs already in TEST_LAB_ADDRESS and TEST_LAB_DATA.
 */
export default async function startForAll(): Promise<() => Promise<void>> {
  if (process.env.TEST_LAB_ADDRESS) return async () => {};
  const lab = await startLab('demo');
  process.env.TEST_LAB_ADDRESS = lab.address;
  process.env.TEST_LAB_DATA = lab.dataDir;
  return lab.stop;
}
