import { describe, expect, it } from 'vitest';
import { isAllowed, PERMISSIONS, type Permission } from '@/lib/access/permissions';
import { ROLES } from '@/lib/registry/vocabulary';

/** The whole table, written a second time: what is not here must be refused. */
const ALLOWED: Record<Permission, string> = {
  'today.read': 'coordinator physician director administrator',
  'cases.read': 'coordinator physician director administrator',
  'outcomes.read': 'coordinator physician director administrator',
  'exchange.read': 'coordinator physician director administrator',
  'exchange.import': 'coordinator director administrator',
  'patient.write': 'coordinator physician director',
  'procedure.write': 'physician director',
  'visit.write': 'coordinator physician director',
  'lesions.write': 'physician director',
  'complication.write': 'coordinator physician director',
  'complication.adjudicate': 'physician director',
  'case.sign': 'physician director',
  'lab.read': 'coordinator physician director administrator',
  'schedule.write': 'director administrator',
};

describe('the role table', () => {
  const cells = PERMISSIONS.flatMap((permission) => ROLES.map((role) => [role.code, permission] as const));

  it.each(cells)('%s, %s: as listed', (role, permission) => {
    expect(isAllowed(role, permission)).toBe(ALLOWED[permission].split(' ').includes(role));
  });

  it('refuses a permission that it does not list, also one of the object itself', () => {
    const unlisted = JSON.parse('["case.delete", "__proto__", "constructor", "toString"]');
    for (const permission of unlisted)
      for (const role of ROLES) expect(isAllowed(role.code, permission)).toBe(false);
  });

  it('gives a program nothing', () => {
    for (const permission of PERMISSIONS) expect(isAllowed('program', permission)).toBe(false);
  });
});
