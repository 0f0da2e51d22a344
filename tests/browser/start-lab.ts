import { startLab } from './running-lab';

/** One demo lab for the whole run; its address and data folder reach the tests by environment. */
export default async function startForAll(): Promise<() => Promise<void>> {
  const lab = await startLab('demo');
  process.env.TEST_LAB_ADDRESS = lab.address;
  process.env.TEST_LAB_DATA = lab.dataDir;
  return lab.stop;
}
