import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Actor } from '@/lib/records/actor';

interface ImportAnswer {
  readonly code: number;
  readonly said: readonly string[];
}

export interface ImportPlace {
  readonly actor: Actor;
  readonly folder: string;
  /** Runs the import command on a file with a mapping, as the launcher would. */
  importFile(file: string, mapping: object, options?: readonly string[]): Promise<ImportAnswer>;
  /** Runs it on text that is first written to a file of the folder. */
  importText(name: string, csv: string, mapping: object, options?: readonly string[]): Promise<ImportAnswer>;
  run(args: readonly string[]): Promise<ImportAnswer>;
  /** Removes the folder. */
  leave(): Promise<void>;
}

/** A lab of its own in the open test database, and a folder from which the import command is run. */
export async function openImportPlace(): Promise<ImportPlace> {
  const { createLab, setUpLab } = await import('@/lib/records/labs/write');
  const { actorOfProgram } = await import('@/lib/records/actor-of-program');
  const { ENDPOINT_PRESETS } = await import('@/lib/registry/endpoint-presets');
  const { DEFAULT_SLOTS } = await import('@/lib/registry/follow-up-schedule');
  const { runImport } = await import('@/lib/launch/commands/import');
  const labId = await createLab('Lab');
  const actor = await actorOfProgram('test', labId);
  await setUpLab(actor, { labName: 'Lab', definitions: ENDPOINT_PRESETS, schedule: DEFAULT_SLOTS });
  const folder = await mkdtemp(path.join(tmpdir(), 'afterbeat-import-'));

  async function run(args: readonly string[]): Promise<ImportAnswer> {
    const said: string[] = [];
    const code = await runImport([...args, `--lab=${labId}`], { folder, say: (line) => said.push(line) });
    return { code, said };
  }

  return {
    actor,
    folder,
    run,
    leave: () => rm(folder, { recursive: true }),
    async importFile(file, mapping, options = []) {
      await writeFile(path.join(folder, 'mapping.json'), JSON.stringify(mapping));
      return run([file, '--mapping=mapping.json', ...options]);
    },
    async importText(name, csv, mapping, options = []) {
      await writeFile(path.join(folder, name), csv);
      await writeFile(path.join(folder, `${name}.mapping.json`), JSON.stringify(mapping));
      return run([name, ...options]);
    },
  };
}

/** Text of a file of the repository. */
export function readRepositoryFile(...parts: readonly string[]): Promise<string> {
  return readFile(path.join(import.meta.dirname, '../..', ...parts), 'utf8');
}
