import 'server-only';
import { createHash, randomUUID } from 'node:crypto';
import { z } from 'zod';
import type { Actor } from '@/lib/records/actor';
import { canonicalJson } from '@/lib/records/audit-chain';
import type { FormRequest } from '@/lib/records/record';
import { findingsOfZod, refusal } from '@/lib/registry/findings';
import type { ConflictField, FormValue, WriteResult } from '@/lib/registry/write-result';
import { ApplicationError, StaleEdit } from '@/lib/runtime/application-error';
import { logError, logInfo } from '@/lib/runtime/log';
import { admit } from './current-actor';
import type { Permission } from './permissions';

export interface WriteContext {
  readonly actor: Actor;
  /** Sent twice, stored once. */
  readonly request: FormRequest;
}

interface ActionOrder<Schema extends z.ZodType> {
  readonly permission: Permission;
  readonly schema: Schema;
  /** Words for the fields of the form by path, for conflicts; a path without words is shown as it is. */
  readonly labels?: Readonly<Record<string, string>>;
}

const envelopeSchema = z.strictObject({ idempotencyKey: z.uuid(), values: z.unknown() });

/**
 * The order of steps of every write from a form: authorise, parse, write (which audits), answer. Whatever happens the form
 * gets an answer it can show; unknown errors are logged under a reference and never shown.
 */
export function writeAction<Schema extends z.ZodType>(
  order: ActionOrder<Schema>,
  write: (context: WriteContext, values: z.output<Schema>) => Promise<WriteResult>,
): (input: unknown) => Promise<WriteResult> {
  return (input) =>
    answerOf(async () => {
      const admission = await admit(order.permission);
      if (admission.kind === 'unauthenticated') return { kind: 'unauthenticated' };
      if (admission.kind === 'forbidden') {
        logInfo({ event: 'refused', actor: admission.actor.id, action: order.permission });
        return { kind: 'forbidden', message: 'Your role may not store this. What you typed is still here.' };
      }
      const { actor } = admission;
      return takeForm(
        order.schema,
        input,
        (values, request) => write({ actor, request }, values),
        order.labels,
      );
    });
}

/** The same for the one form that is open to strangers: whoever holds a one-time link. */
export function strangerAction<Schema extends z.ZodType>(
  schema: Schema,
  write: (values: z.output<Schema>) => Promise<WriteResult>,
): (input: unknown) => Promise<WriteResult> {
  return (input) => answerOf(() => takeForm(schema, input, write));
}

async function takeForm<Schema extends z.ZodType>(
  schema: Schema,
  input: unknown,
  write: (values: z.output<Schema>, request: FormRequest) => Promise<WriteResult>,
  labels: Readonly<Record<string, string>> = {},
): Promise<WriteResult> {
  const envelope = envelopeSchema.safeParse(input);
  if (!envelope.success) {
    return {
      kind: 'invalid',
      findings: [refusal('', 'This form could not be read. Reload the page and enter it again.')],
    };
  }
  const { idempotencyKey, values: typed } = envelope.data;
  const values = schema.safeParse(typed);
  if (!values.success) return { kind: 'invalid', findings: findingsOfZod(values.error) };
  try {
    return await write(values.data, { key: idempotencyKey, valuesHash: hashOf(typed) });
  } catch (error) {
    if (!(error instanceof StaleEdit)) throw error;
    return {
      kind: 'conflict',
      fields: differing(typed, error.stored, labels),
      storedVersion: error.storedVersion,
    };
  }
}

/** Hash of what was typed; members of an object in whatever order give the same. */
function hashOf(typed: unknown): Uint8Array<ArrayBuffer> {
  return new Uint8Array(createHash('sha256').update(canonicalJson(typed)).digest());
}

async function answerOf(work: () => Promise<WriteResult>): Promise<WriteResult> {
  try {
    return await work();
  } catch (error) {
    return error instanceof ApplicationError ? answerOfRefusal(error) : failed(error);
  }
}

function answerOfRefusal(error: ApplicationError): WriteResult {
  if (error.kind === 'unauthenticated') return { kind: 'unauthenticated' };
  if (error.kind === 'forbidden') return { kind: 'forbidden', message: error.message };
  if (error.kind === 'internal') return failed(error);
  const fields = error.fields.length > 0 ? error.fields : [{ field: '', message: error.message }];
  return { kind: 'invalid', findings: fields.map(({ field, message }) => refusal(field, message)) };
}

function failed(error: unknown): WriteResult {
  const reference = randomUUID().slice(0, 8);
  logError({ event: 'action-failed', reference, error: nameOf(error) });
  return {
    kind: 'failed',
    message: 'It could not be stored. What you typed is still here; try again in a moment.',
    reference,
  };
}

/** Name and code only: messages of the database layer repeat the values that were written. */
function nameOf(error: unknown): string {
  if (!(error instanceof Error)) return 'unknown';
  return 'code' in error ? `${error.name} ${String(error.code)}` : error.name;
}

/** Every stored field that differs from what was typed: '' and null are the same. */
function differing(
  typed: unknown,
  stored: Readonly<Record<string, FormValue>>,
  labels: Readonly<Record<string, string>>,
): ConflictField[] {
  return Object.entries(stored).flatMap(([field, value]) => {
    const yours = valueAt(typed, field);
    const same = String(yours ?? '') === String(value ?? '');
    return same ? [] : [{ field, label: labels[field] ?? field, yours, stored: value }];
  });
}

function valueAt(typed: unknown, path: string): FormValue {
  let value: unknown = typed;
  for (const name of path.split('.')) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, name)) return null;
    value = Object.entries(value).find(([key]) => key === name)?.[1];
  }
  if (Array.isArray(value)) return value.map(String).join(', ');
  return typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean' ? value : null;
}
