import { createHash, randomBytes } from 'node:crypto';
import { withClient } from './database-client.mjs';

const HOURS_VALID = 24;

/**
 * Makes a link with which the first administrator opens an account. The database keeps only the hash of its token;
 * an earlier link that was never used stops working.
 * @param {{ ownerUrl: string, address: string }} options
 * @returns {Promise<string>} the link, to be shown once
 */
export async function makeFirstRunLink({ ownerUrl, address }) {
  const token = randomBytes(32).toString('base64url');
  const hash = createHash('sha256').update(token).digest();
  await withClient(ownerUrl, async (client) => {
    await client.query('BEGIN');
    await client.query('DELETE FROM setup_links WHERE used_at IS NULL');
    await client.query(
      `INSERT INTO setup_links (token_hash, lab_id, expires_at)
       SELECT $1, id, now() + make_interval(hours => $2) FROM labs ORDER BY created_at, id LIMIT 1`,
      [hash, HOURS_VALID],
    );
    await client.query('COMMIT');
  });
  return `${address}/first-run?token=${token}`;
}
