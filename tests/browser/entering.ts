import { expect, type Page } from '@playwright/test';

/** Ways of a person through the forms, shared by journeys. */

const DAY_MS = 86_400_000;

/** The day so many days before today, as it is typed. */
export function daysAgo(days: number): string {
  return new Date(Date.now() - days * DAY_MS).toISOString().slice(0, 10);
}

/** Registers a patient and answers the code that the lab made; the form of a procedure is open next for those who may record one. */
export async function registerPatient(page: Page, birthYear: string): Promise<string> {
  await page.goto('/patients/new');
  await page.getByLabel('Birth year').fill(birthYear);
  await page.getByRole('radio', { name: 'Female' }).check();
  await page.getByRole('button', { name: 'Register the patient' }).click();
  await page.waitForURL(/\/patients\/[0-9a-f-]{36}/);
  const title = (await page.getByRole('heading', { level: 1 }).textContent()) ?? '';
  const code = /P-[0-9A-Z]{4,8}-[0-9A-Z]/.exec(title)?.[0];
  if (code === undefined) throw new Error(`no code in "${title}"`);
  return code;
}

/** Records a procedure on the form that is open and answers the address of its case. */
export async function recordProcedure(page: Page, performedOn: string): Promise<string> {
  await page.getByLabel('Procedure day').fill(performedOn);
  await page.getByLabel('Energy').selectOption({ label: 'Radiofrequency' });
  await page.getByLabel('Intended strategy').selectOption({ label: 'Wide encircling' });
  await page.getByLabel('AF type').selectOption({ label: 'Paroxysmal' });
  await page.getByRole('button', { name: 'Record the procedure' }).click();
  await page.waitForURL(/\/cases\/[0-9a-f-]{36}$/);
  return new URL(page.url()).pathname;
}

/** Enters a visit with one ECG and answers when it stands under Follow-up. */
export async function enterVisit(
  page: Page,
  casePath: string,
  visitedOn: string,
  rhythm: string,
): Promise<void> {
  await page.goto(`${casePath}/visits/new`);
  await page.getByLabel('Visit needed').selectOption({ label: 'Not in the schedule' });
  await page.getByLabel('Visit day').fill(visitedOn);
  await page.getByRole('button', { name: 'Add a recording' }).click();
  await page.getByLabel('Rhythm found').selectOption({ label: rhythm });
  if (rhythm === 'AF') await page.getByLabel('Fills the whole tracing').check();
  await page.getByLabel('Drugs reviewed').check();
  await page.getByRole('button', { name: 'Save the visit' }).click();
  await page.waitForURL(`**${casePath}/follow-up`);
  await expect(page.getByRole('row', { name: new RegExp(visitedOn) })).toBeVisible();
}
