import { z } from 'zod';

/** Forms whose unfinished values are kept on the server; the subject is what the form is about. */
const DRAFT_FORMS = [
  'procedure-new',
  'procedure',
  'lesions',
  'visit-new',
  'visit',
  'complication-new',
  'complication',
  'adjudication',
  'readmission-new',
  'readmission',
  'schedule',
] as const;
export type DraftForm = (typeof DRAFT_FORMS)[number];

const LONGEST_DRAFT = 120_000;

/** What a form sends to have its unfinished values kept. The hospital number has no place in any of these forms. */
export const draftInputSchema = z.strictObject({
  form: z.enum(DRAFT_FORMS),
  subject: z.uuid(),
  values: z
    .record(z.string().max(80), z.unknown())
    .refine((values) => JSON.stringify(values).length <= LONGEST_DRAFT, {
      error: 'The form is too long to be kept as a draft.',
    }),
});
export type DraftInput = z.input<typeof draftInputSchema>;

export const draftPlaceSchema = draftInputSchema.pick({ form: true, subject: true });
export type DraftPlace = z.input<typeof draftPlaceSchema>;

/** What keeping a draft answers. */
export type DraftAnswer =
  | {
      readonly kind: 'kept';
      /** UTC instant. */
      readonly at: string;
      /** Texts that were left out because they may hold an identifier. */
      readonly flagged: readonly { readonly field: string; readonly reason: string }[];
    }
  | { readonly kind: 'notKept'; readonly message: string };

/** A draft as a page hands it to its form. */
export interface StoredDraft {
  readonly values: Readonly<Record<string, unknown>>;
  readonly at: string;
}
