import type { MouseEvent, ReactNode } from 'react';
import { addressOf, goTo, type Route } from './route.ts';

/** A link inside the app: the page stays, the address changes; opened in a new tab it works as any link. */
export function RouteLink({
  to,
  children,
  className,
  isCurrent = false,
}: {
  readonly to: Route;
  readonly children: ReactNode;
  readonly className?: string;
  readonly isCurrent?: boolean;
}) {
  const follow = (event: MouseEvent) => {
    if (event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    goTo(to);
  };
  return (
    <a
      href={addressOf(to)}
      className={className}
      aria-current={isCurrent ? 'page' : undefined}
      onClick={follow}
    >
      {children}
    </a>
  );
}
