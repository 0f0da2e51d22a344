import { writeFileSync } from 'node:fs';
import { simulateObserved } from './observed';
import { DEMO_SEED } from './parameters';
import { simulateFreedom } from './truth';
import { OBSERVED_LABS, TRUTH_LABS, TRUTH_SEED, truthOf } from './truth-file';

/** Works out the demo lab's truth and writes it beside the generator. Takes about a minute. */
console.log(`Simulating ${TRUTH_LABS} labs for freedom, ${OBSERVED_LABS} for detection.`);
const truth = truthOf(simulateFreedom(TRUTH_LABS, TRUTH_SEED), simulateObserved(OBSERVED_LABS, DEMO_SEED));
const file = new URL('./truth.json', import.meta.url);
writeFileSync(file, `${JSON.stringify(truth, null, 2)}\n`);
console.log('Wrote seed/truth.json.');
