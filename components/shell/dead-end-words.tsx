import { LinkButton } from '@/components/ui/button';
import { DeadEnd } from './dead-end';

/** There is nothing at this address. */
export function NotFoundWords() {
  return (
    <DeadEnd
      title="Nothing is recorded at this address"
      actions={
        <>
          <LinkButton href="/cases" weight="primary">
            Look in Cases
          </LinkButton>
          <LinkButton href="/today">Go to Today</LinkButton>
        </>
      }
    >
      <p>
        The address may be incomplete, or what stood here belongs to another lab. Patients and cases can be
        found by their code in Cases.
      </p>
    </DeadEnd>
  );
}

/** The role does not reach here. */
export function ForbiddenWords() {
  return (
    <DeadEnd
      title="Your role does not open this page"
      actions={
        <LinkButton href="/today" weight="primary">
          Go to Today
        </LinkButton>
      }
    >
      <p>
        You are signed in, but this page belongs to another role. The administrator of the lab gives out
        roles.
      </p>
    </DeadEnd>
  );
}
