import { ForbiddenWords } from '@/components/shell/dead-end-words';

export default function LabForbidden() {
  return <ForbiddenWords />;
}
