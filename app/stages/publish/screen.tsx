import { useState } from 'react';
import { StillNeeded, useIsWhole } from '../../parts/still-needed.tsx';
import { keepOrder, readOrder } from './kept-order.ts';
import type { Order } from './order.ts';
import { OrderForm } from './order-form.tsx';
import { Preview } from './preview.tsx';
import { PublishedDocuments } from './published-documents.tsx';
import { Texts } from './texts.tsx';
import './publish.css';

/** What is to be published and how, each document to look at as it would be, the author's own passages, and the set. */
export default function PublishScreen() {
  const [order, setOrder] = useState<Order>(readOrder);
  const isWhole = useIsWhole();
  const choose = (next: Order): void => {
    setOrder(next);
    keepOrder(next);
  };
  return (
    <div className="publish">
      <div className="publish-order">
        <OrderForm order={order} onChoose={choose} />
        <PublishedDocuments order={order} />
      </div>
      {isWhole ? <Preview order={order} /> : <StillNeeded />}
      <Texts language={order.language} />
    </div>
  );
}
