import type { DraftKeeping } from '@/components/forms/use-draft';
import type { DraftForm, StoredDraft } from '@/lib/registry/draft-forms';
import { dropFormDraft, keepFormDraft } from './actions';

/** Where the unfinished values of a form go: what it is, what it is about, and what is kept already. */
export function draftOf(form: DraftForm, subject: string, stored: StoredDraft | null): DraftKeeping {
  return { form, subject, stored, keep: keepFormDraft, drop: dropFormDraft };
}
