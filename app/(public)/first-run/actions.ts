'use server';

import { strangerAction } from '@/lib/access/action';
import { makeFirstAdministrator } from '@/lib/access/first-run';
import { firstRunSchema } from './schema';

export const createFirstAdministrator = strangerAction(firstRunSchema, makeFirstAdministrator);
