/**
 * Leaves the words that people read out of the count: what a mistake says and why something is absent. Their codes,
 * arguments and indices stay in, and so does every other string.
 */

/** @typedef {{ node: Record<string, any>, parent: Record<string, any>, isExpression(): boolean }} Path */

/** @param {Path} path */
function isWording({ node, parent }) {
  if (parent?.type === 'NewExpression' && parent.callee.name === 'StatisticsError')
    return parent.arguments.indexOf(node) === 3;
  if (parent?.type === 'CallExpression' && parent.callee.name === 'refuse')
    return parent.arguments.indexOf(node) === 2;
  return (
    parent?.type === 'VariableDeclarator' &&
    parent.init === node &&
    /^(message|REASONS)$/.test(parent.id.name)
  );
}

export const strykerPlugins = [
  {
    kind: 'Ignore',
    name: 'wording',
    value: {
      /** @param {Path} path */
      shouldIgnore: (path) => (isWording(path) ? 'words for people' : undefined),
    },
  },
];
