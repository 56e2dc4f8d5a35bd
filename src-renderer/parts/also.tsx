import type { ReactNode } from 'react';

/** What is done now and then, in one quiet line beneath what is done every day; `label` for whoever hears it. */
export function Also({ label, children }: { label: string; children: ReactNode }) {
  return (
    <nav className="also" aria-label={label}>
      <span>Also:</span>
      {children}
    </nav>
  );
}
