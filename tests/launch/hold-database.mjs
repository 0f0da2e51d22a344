/**
 * Opens the embedded database of a folder, prints its addresses, and holds it until its input ends.
 * Usage: node hold-database.mjs DATA_FOLDER
 */
import { openDatabase } from '../../lib/launch/embedded-database.mjs';

const database = await openDatabase({ dataDir: process.argv[2] ?? '' });
console.log(JSON.stringify({ appUrl: database.appUrl, adminUrl: database.adminUrl, home: database.home }));
process.stdin.resume().on('end', async () => {
  await database.release();
  process.exit(0);
});
