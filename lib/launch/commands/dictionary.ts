import { readFileSync, writeFileSync } from 'node:fs';
import { dataDictionary } from '../../exchange/data-dictionary';

/** Writes docs/data-dictionary.md anew. */
writeFileSync('docs/data-dictionary.md', dataDictionary(readFileSync('prisma/schema.prisma', 'utf8')));
