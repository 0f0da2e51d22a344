/**
 * Opens one connection, hands it over, and closes it whatever happens. The driver is imported here, on use, because
 * it is not there before the packages are installed.
 * @template T
 * @param {string} url
 * @param {(client: import('pg').Client) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function withClient(url, work) {
  const { default: pg } = await import('pg');
  const client = new pg.Client({
    connectionString: url,
    application_name: 'afterbeat-launch',
    connectionTimeoutMillis: 10_000,
    keepAlive: true,
  });
  // A connection lost between two queries also rejects the next one, which is where it is reported.
  client.on('error', () => {});
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}
