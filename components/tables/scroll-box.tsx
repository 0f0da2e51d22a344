'use client';

import { type ReactNode, useEffect, useRef } from 'react';
import styles from './scroll-box.module.css';

/** Lets a wide table scroll in a box of its own. The box takes the focus only while something is out of sight. */
export function ScrollBox({ children, labelledBy }: { children: ReactNode; labelledBy: string }) {
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    const adjust = () => {
      if (element.scrollWidth > element.clientWidth + 1) element.tabIndex = 0;
      else element.removeAttribute('tabindex');
    };
    const observer = new ResizeObserver(adjust);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return (
    <section ref={box} className={styles.box} aria-labelledby={labelledBy}>
      {children}
    </section>
  );
}
