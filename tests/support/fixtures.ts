import { existsSync } from 'node:fs';
import path from 'node:path';

/**
 * Data that may not be kept in the repository (GPL): AFTERBEAT_FIXTURES names the folder that holds them, or one that holds
 * them in opendata/ and reference/, or the first of these two. Answers the folder that holds `file`, or undefined: whoever
 * asks then says what is left out.
 */
export function fixtureFolder(file: string): string | undefined {
  const named = process.env.AFTERBEAT_FIXTURES;
  if (!named) return undefined;
  const places = ['.', 'opendata', 'reference', '../opendata', '../reference'];
  return places.map((place) => path.join(named, place)).find((place) => existsSync(path.join(place, file)));
}
