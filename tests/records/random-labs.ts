import type pg from 'pg';
import { addDays, type CalendarDay, calendarDay } from '@/lib/registry/calendar-day';
import { nominalDay, type ScheduleSlot } from '@/lib/registry/follow-up-schedule';

/** Lines of schedules in each lab: invented strategies, and the one for all, which holds for cases without a strategy. */
const STRATEGIES = Array.from({ length: 29 }, (_, index) => `drawn-${index + 1}`);
const LINES = [...STRATEGIES, null];
export const LINES_PER_LAB = LINES.length;

type Draw = () => number;
const whole = (draw: Draw, from: number, to: number) => from + Math.floor(draw() * (to - from + 1));
const oneOf = <T>(draw: Draw, list: readonly T[]): T => list[whole(draw, 0, list.length - 1)];
const sometimes = <T>(draw: Draw, share: number, make: () => T): T | null => (draw() < share ? make() : null);
/** An id of the draw, so that a failing lab can be made again. */
const idOf = (draw: Draw) => {
  const [a, b, c, d] = Array.from({ length: 4 }, () =>
    Math.floor(draw() * 2 ** 32)
      .toString(16)
      .padStart(8, '0'),
  );
  return `${a}-${b.slice(0, 4)}-4${b.slice(5)}-8${c.slice(1, 4)}-${c.slice(4)}${d}`;
};

const FIRST = calendarDay('2023-12-01');

/** A few slots, chosen from few codes so that versions share some of them. */
function slotsOf(draw: Draw): ScheduleSlot[] {
  const codes = [7, 14, 30, 60, 90, 'm1', 'm2', 'm3', 'm6', 'm9'].filter(() => draw() < 0.5);
  const chosen = codes.length > 0 ? codes : [30];
  return chosen
    .map((code): ScheduleSlot => {
      const due =
        typeof code === 'number'
          ? { unit: 'days' as const, amount: code }
          : { unit: 'months' as const, amount: Number(code.slice(1)) };
      return {
        code: `${due.unit === 'days' ? 'day' : 'month'}-${due.amount}`,
        label: 'Drawn',
        kind: oneOf(draw, ['safety-call', 'visit']),
        due,
        windowBeforeDays: whole(draw, 0, 40),
        windowAfterDays: whole(draw, 0, 50),
        evidence: oneOf(draw, ['symptoms', 'symptoms', 'ecg', '24h', '7d', '14d', 'continuous']),
      };
    })
    .sort((a, b) => nominalDay(a) - nominalDay(b));
}

/** Versions of one line: days of effect never go back, and now and then two share one. */
function versionsOf(draw: Draw, strategy: string | null) {
  let effective: CalendarDay | null = strategy === null ? null : addDays(FIRST, whole(draw, -30, 300));
  const count = strategy === null ? whole(draw, 1, 4) : whole(draw, 1, 3);
  return Array.from({ length: count }, (_, index) => {
    if (index > 0) effective = addDays(effective ?? FIRST, draw() < 0.15 ? 0 : whole(draw, 1, 150));
    const slots = strategy !== null && index > 0 && draw() < 0.25 ? [] : slotsOf(draw);
    return { strategy, version_number: index + 1, effective_on: effective, slots };
  });
}

function historyOf(draw: Draw, strategy: string | null, number: number) {
  const performed = addDays(FIRST, whole(draw, 0, 200));
  const again = sometimes(draw, 0.25, () => addDays(performed, whole(draw, 1, 300)));
  const end = () => addDays(performed, whole(draw, 1, 500));
  const patient = {
    id: idOf(draw),
    code: `P-${number.toString(36).toUpperCase().padStart(4, '0')}-X`,
    birth_year: 1950,
    sex: 'female',
    version: 1,
    created_at: '2024-01-01',
    died_on: sometimes(draw, 0.08, end),
    consent_withdrawn_on: sometimes(draw, 0.08, end),
    transferred_on: sometimes(draw, 0.08, end),
  };
  const procedures = [performed, ...(again ? [again] : [])].map((performed_on, index) => ({
    id: idOf(draw),
    patient_id: patient.id,
    ordinal: index + 1,
    performed_on,
    intended_strategy: draw() < 0.5 ? strategy : strategy && oneOf(draw, STRATEGIES),
    settled_strategy: strategy,
    state: 'entered',
    veins: [],
    version: 1,
    created_at: '2024-01-01',
  }));
  const visits = procedures.flatMap((procedure) =>
    Array.from({ length: whole(draw, 0, 6) }, (_, index) => ({
      id: idOf(draw),
      patient_id: patient.id,
      procedure_id: procedure.id,
      procedure_performed_on: procedure.performed_on,
      slot: oneOf(draw, [
        'day-7',
        'day-14',
        'day-30',
        'day-60',
        'day-90',
        'month-1',
        'month-3',
        'month-6',
        'unscheduled',
      ]),
      visited_on: addDays(procedure.performed_on, index * 40 + whole(draw, 0, 39)),
      mode: 'phone',
      drugs_reviewed: false,
      version: 1,
      created_at: '2024-01-01',
    })),
  );
  const recordings = Array.from({ length: whole(draw, 0, 6) }, () => {
    const started_on = addDays(performed, whole(draw, -20, 320));
    return {
      id: idOf(draw),
      patient_id: patient.id,
      visit_id: visits.length > 0 ? sometimes(draw, 0.5, () => oneOf(draw, visits).id) : null,
      kind: oneOf(draw, ['ecg', 'rhythm-strip', 'holter', 'holter', 'holter', 'implanted']),
      started_on,
      ended_on: addDays(started_on, oneOf(draw, [0, 0, 1, 7, 14, 60])),
      duration_minutes: sometimes(draw, 0.8, () =>
        oneOf(draw, [5, 1439, 1440, 10_079, 10_080, 20_159, 20_160]),
      ),
      rhythm: 'sinus',
      whole_tracing: false,
      source: 'seen',
      version: 1,
      created_at: '2024-01-01',
    };
  });
  return { patient, procedures, visits, recordings };
}

export interface RandomLab {
  readonly labId: string;
  readonly today: CalendarDay;
}

/** Stores labs with random schedules, one patient for each of their lines, behind the app's back. */
export async function storeRandomLabs(owner: pg.Client, draw: Draw, count: number): Promise<RandomLab[]> {
  const made = Array.from({ length: count }, () => ({
    labId: idOf(draw),
    today: addDays(FIRST, whole(draw, 0, 600)),
    versions: LINES.flatMap((strategy) => versionsOf(draw, strategy)),
    histories: LINES.map((strategy, index) => historyOf(draw, strategy, index)),
  }));
  const insert = (table: string, rows: readonly object[]) =>
    owner.query(`INSERT INTO ${table} SELECT * FROM jsonb_populate_recordset(NULL::${table}, $1::jsonb)`, [
      JSON.stringify(rows),
    ]);
  const ofLabs = (rowsOf: (lab: (typeof made)[number]) => readonly object[]) =>
    made.flatMap((lab) => rowsOf(lab).map((row) => ({ ...row, lab_id: lab.labId })));
  await insert(
    'labs',
    made.map(({ labId }) => ({ id: labId, name: 'Drawn', created_at: '2024-01-01' })),
  );
  await insert(
    'follow_up_schedules',
    ofLabs(({ versions }) =>
      versions.map((version) => ({ ...version, id: idOf(draw), created_at: '2024-01-01' })),
    ),
  );
  await insert(
    'patients',
    ofLabs(({ histories }) => histories.map(({ patient }) => patient)),
  );
  await insert(
    'procedures',
    ofLabs(({ histories }) => histories.flatMap(({ procedures }) => procedures)),
  );
  await insert(
    'follow_up_visits',
    ofLabs(({ histories }) => histories.flatMap(({ visits }) => visits)),
  );
  await insert(
    'recordings',
    ofLabs(({ histories }) => histories.flatMap(({ recordings }) => recordings)),
  );
  await owner.query('ANALYZE');
  return made.map(({ labId, today }) => ({ labId, today }));
}
