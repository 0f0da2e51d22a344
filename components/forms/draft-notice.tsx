'use client';

import { Button } from '@/components/ui/button';
import { Notice } from '@/components/ui/notice';
import type { DraftAnswer, StoredDraft } from '@/lib/registry/draft-forms';

const clockOf = (at: string): string => `${at.slice(0, 10)} ${at.slice(11, 16)} UTC`;

interface StoredDraftNoticeProps {
  readonly draft: StoredDraft;
  readonly onTakeUp: () => void;
  readonly onDrop: () => void;
}

/** Unfinished values from an earlier time: taken up or thrown away by the person, never silently. */
export function StoredDraftNotice({ draft, onTakeUp, onDrop }: StoredDraftNoticeProps) {
  return (
    <Notice kind="plain" title={`A draft of this form is kept, from ${clockOf(draft.at)}`}>
      <p>It was typed and not saved. Take it up to go on with it, or throw it away.</p>
      <p>
        <Button onClick={onTakeUp}>Take it up</Button> <Button onClick={onDrop}>Throw it away</Button>
      </p>
    </Notice>
  );
}

/** What became of the values typed last, in a few words for the foot of the form. */
export function draftWords(answer: DraftAnswer | undefined): string {
  if (!answer) return '';
  return answer.kind === 'kept' ? `Draft kept at ${answer.at.slice(11, 16)} UTC.` : answer.message;
}

interface FlaggedTextsProps {
  readonly flagged: readonly { readonly field: string; readonly reason: string }[];
  readonly labelOf: (field: string) => string;
}

/** Texts that stay in this page only, because they may tell who the patient is. */
export function FlaggedTexts({ flagged, labelOf }: FlaggedTextsProps) {
  if (flagged.length === 0) return null;
  return (
    <Notice kind="caution" title="Not kept in the draft" live="status">
      <ul>
        {flagged.map(({ field, reason }) => (
          <li key={field}>
            {labelOf(field)}: {reason}. It stays on this page only; take it out, because identifiers have no
            place here.
          </li>
        ))}
      </ul>
    </Notice>
  );
}
