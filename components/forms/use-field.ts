'use client';

import { useContext } from 'react';
import { get, type RegisterOptions, useFormContext, useFormState } from 'react-hook-form';
import { RecordFormContext } from './record-form-context';

/** The id of a field's control inside a form. */
export function fieldId(formId: string, name: string): string {
  return `${formId}-${name.replaceAll('.', '-')}`;
}

/** Message of a node in react-hook-form's tree of errors; an array keeps its own under `root`. */
function messageOf(node: unknown): string | undefined {
  if (typeof node !== 'object' || node === null) return undefined;
  if ('message' in node && typeof node.message === 'string' && node.message !== '') return node.message;
  return 'root' in node ? messageOf(node.root) : undefined;
}

/** Id and findings of one field of the record form around it. */
export function useFieldFindings(name: string) {
  const { formId, warnings } = useContext(RecordFormContext);
  const { control } = useFormContext();
  const { errors } = useFormState({ control, name });
  return {
    id: fieldId(formId, name),
    error: messageOf(get(errors, name)),
    warning: warnings.find((finding) => finding.field === name)?.message,
  };
}

/** A default as the text that a control shows. */
function textOf(value: unknown): string {
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}

/** Joins one field to the record form around it: its id, its findings, and what the control must carry. */
export function useField(name: string, options?: RegisterOptions) {
  const { register, control } = useFormContext();
  const { defaultValues } = useFormState({ control, name });
  const initial: unknown = get(defaultValues, name);
  return {
    ...useFieldFindings(name),
    registration: register(name, options),
    /** What the server draws before the scripts take over, so that an edit form is never empty. */
    initialText: textOf(initial),
    isInitiallyTicked: initial === true,
  };
}
