import { NotFoundWords } from '@/components/shell/dead-end-words';

export default function LabNotFound() {
  return <NotFoundWords />;
}
