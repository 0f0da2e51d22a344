/** Starts a shell with a child of its own under a guard, prints the numbers of both, and waits for ever. */
import { startGuarded } from '../../lib/launch/guarded-process.mjs';

startGuarded('/bin/sh', ['-c', 'sleep 600 & echo "$$ $!"; wait'], { stdio: ['ignore', 1, 2] });
setInterval(() => {}, 1000);
