import { NotFoundWords } from '@/components/shell/dead-end-words';
import { LonePage } from '@/components/shell/lone-page';

export const metadata = { title: 'Nothing here' };

export default function NotFound() {
  return (
    <LonePage>
      <NotFoundWords />
    </LonePage>
  );
}
