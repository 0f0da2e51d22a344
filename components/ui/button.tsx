import Link from 'next/link';
import type { ButtonHTMLAttributes, ReactNode } from 'react';
import styles from './button.module.css';

/** 'primary' once per view; 'harm' for what takes something away; 'quiet' reads as a link. */
type ButtonWeight = 'plain' | 'primary' | 'harm' | 'quiet';

interface ButtonProps extends ButtonHTMLAttributes<HTMLButtonElement> {
  readonly weight?: ButtonWeight;
  /** Working: stays focusable and says so, and ignores presses. */
  readonly busy?: boolean;
}

export function Button({
  weight = 'plain',
  busy,
  type = 'button',
  className,
  onClick,
  ...rest
}: ButtonProps) {
  return (
    <button
      {...rest}
      type={type}
      className={[styles.button, styles[weight], className].filter(Boolean).join(' ')}
      aria-disabled={busy ? true : undefined}
      onClick={busy ? (event) => event.preventDefault() : onClick}
    />
  );
}

interface LinkButtonProps {
  readonly href: string;
  readonly children: ReactNode;
  readonly weight?: ButtonWeight;
}

/** A link that looks like a button: for going somewhere, never for changing something. */
export function LinkButton({ href, children, weight = 'plain' }: LinkButtonProps) {
  return (
    <Link href={href} className={[styles.button, styles[weight]].filter(Boolean).join(' ')} prefetch={false}>
      {children}
    </Link>
  );
}
