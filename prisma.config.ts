import { defineConfig } from 'prisma/config';

// The address of the database is never read from here: migrations are applied by
// lib/launch/migrate.mjs and the app connects through its adapter.
export default defineConfig({ schema: 'prisma/schema.prisma' });
