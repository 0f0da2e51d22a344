import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { fingerprint, readIfThere } from './checkout.mjs';
import { withClient } from './database-client.mjs';
import { runProgram } from './programs.mjs';

/**
 * Analysis rows are derived; when the rules that derive them change they are rebuilt. Asking the program costs a
 * second at every start, so a note remembers with which sources and which version of the rules it last agreed.
 * @param {{ root: string, dataDir: string, ownerUrl: string, env: Record<string, string | undefined>, log: string }} options
 * @returns {Promise<boolean>} whether the program had to be asked
 */
export async function rebuildOldRows({ root, dataDir, ownerUrl, env, log }) {
  const note = path.join(dataDir, 'analysis-rows-made-with');
  const sources = fingerprint(root, ['lib/registry', 'lib/records', 'lib/launch/commands/rebuild-rows.ts'], {
    except: ['lib/records/generated'],
  });
  const agreed = async () => `${sources} ${await versionsHeld(ownerUrl)}\n`;
  if (readIfThere(note) === (await agreed())) return false;
  await runProgram({
    root,
    script: 'lib/launch/commands/rebuild-rows.ts',
    env,
    log,
    what: 'Rebuilding the analysis rows',
    advice: `read ${log}, mend what it names, then start again; no entry is lost, rows are derived from entries.`,
  });
  writeFileSync(note, await agreed(), { mode: 0o600 });
  return true;
}

/**
 * @param {string} ownerUrl
 * @returns {Promise<string>} the lab and the versions that its rows were derived with
 */
async function versionsHeld(ownerUrl) {
  const { rows } = await withClient(ownerUrl, (client) =>
    client.query(
      `SELECT COALESCE((SELECT string_agg(id::text, ',' ORDER BY id) FROM labs), '') AS labs,
         COALESCE((SELECT string_agg(DISTINCT rules_version::text, ',') FROM analysis_rows), '') AS versions`,
    ),
  );
  return `${rows[0].labs} ${rows[0].versions}`;
}
