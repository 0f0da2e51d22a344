/**
 * `npm run pictures`: takes pictures of every screen of the running app into pictures/ (never committed): light and dark,
 * tablet, phone and paper; full, empty and with errors. Starts a demo lab and an empty one of its own, as the tests do.
 */
import { spawnSync } from 'node:child_process';
import { CHECKOUT } from '../../lib/launch/checkout.mjs';
import { findBrowser } from '../run/find-browser.mjs';

const chromium = findBrowser({ env: process.env, root: CHECKOUT, say: console.log });
const { status } = spawnSync(
  process.execPath,
  ['node_modules/@playwright/test/cli.js', 'test', '--config', 'tests/browser/pictures.config.ts'],
  { cwd: CHECKOUT, stdio: 'inherit', env: { ...process.env, CHROMIUM_PATH: chromium } },
);
process.exitCode = status ?? 1;
