import { existsSync } from 'node:fs';
import { ADAPTERS } from './methods';
import { readCases } from './reference-case';
import { runCases } from './run-cases';

/** `npm run reference -- DIR`: puts every case directly in DIR to the library and says where they differ. */
function main(folder: string | undefined): number {
  if (!folder || !existsSync(folder)) {
    console.error(`${folder ?? 'No folder'}: name a folder of reference cases that exists.`);
    return 2;
  }
  const cases = readCases(folder);
  if (cases.length === 0) {
    console.error(`${folder} holds no reference case: a JSON object with id and method.`);
    return 2;
  }
  const { lines, passed, failed } = runCases(cases, ADAPTERS);
  for (const line of lines) console.log(line);
  console.log(`${passed} passed, ${failed} failed`);
  return failed === 0 ? 0 : 1;
}

process.exitCode = main(process.argv[2]);
