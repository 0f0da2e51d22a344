import type { Role } from '@/lib/registry/vocabulary';

/**
 * The role table. What is not listed is refused. An administrator keeps the lab running and reads; clinical entries belong
 * to those who answer for them.
 */
const ROLES_OF = {
  'today.read': ['coordinator', 'physician', 'director', 'administrator'],
  'cases.read': ['coordinator', 'physician', 'director', 'administrator'],
  'outcomes.read': ['coordinator', 'physician', 'director', 'administrator'],
  'exchange.read': ['coordinator', 'physician', 'director', 'administrator'],
  'exchange.import': ['coordinator', 'director', 'administrator'],
  'patient.write': ['coordinator', 'physician', 'director'],
  'procedure.write': ['physician', 'director'],
  'visit.write': ['coordinator', 'physician', 'director'],
  'lesions.write': ['physician', 'director'],
  'complication.write': ['coordinator', 'physician', 'director'],
  'complication.adjudicate': ['physician', 'director'],
  'case.sign': ['physician', 'director'],
  'lab.read': ['coordinator', 'physician', 'director', 'administrator'],
  'schedule.write': ['director', 'administrator'],
} as const satisfies Record<string, readonly Role[]>;

export type Permission = keyof typeof ROLES_OF;
export const PERMISSIONS = Object.keys(ROLES_OF) as readonly Permission[];

/** True only when the table lists the role for the permission. Programs hold none: they never come through here. */
export function isAllowed(role: Role | 'program', permission: Permission): boolean {
  const roles: readonly string[] = Object.hasOwn(ROLES_OF, permission) ? ROLES_OF[permission] : [];
  return roles.includes(role);
}
