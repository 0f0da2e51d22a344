import { type CalendarDay, calendarDay } from '@/lib/registry/calendar-day';
import { demoPatients } from '@/seed/generator';
import type { DemoPeople } from '@/seed/people';

const id = (last: string) => `00000000-0000-4000-8000-${last.padStart(12, '0')}`;

export const PEOPLE: DemoPeople = {
  coordinatorId: id('1'),
  physicianId: id('2'),
  operatorIds: { 'OP-1': id('11'), 'OP-2': id('12'), 'OP-3': id('13') },
};
export const ANCHOR: CalendarDay = calendarDay('2026-11-25');

/** The demo lab as it would be loaded on the anchor day. */
export const demoLab = (anchor: CalendarDay = ANCHOR) => demoPatients({ anchor, people: PEOPLE });
