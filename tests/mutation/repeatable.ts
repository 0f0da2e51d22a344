import { configureGlobal } from 'fast-check';

// The score must not depend on the luck of a draw, and a first counterexample is as good here as the smallest one.
configureGlobal({ seed: 20_261_125, endOnFailure: true });
