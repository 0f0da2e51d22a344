import { redirect } from 'next/navigation';

/** The lab opens where the day's work is. */
export default function Home(): never {
  redirect('/today');
}
