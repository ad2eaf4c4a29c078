import type { ReactNode } from 'react';
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components';

/** A short explanation at the place where the question arises. */
export function Help({ about, children }: { readonly about: string; readonly children: ReactNode }) {
  return (
    <DialogTrigger>
      <Button className="help-mark" aria-label={`About ${about}`}>
        ?
      </Button>
      <Popover className="help-sheet" placement="bottom start" offset={6}>
        <Dialog aria-label={`About ${about}`}>{children}</Dialog>
      </Popover>
    </DialogTrigger>
  );
}
