import { Choice } from '../../parts/choice.tsx';
import { Help } from '../../parts/help.tsx';
import { DOCUMENTS, FORMATS, type Order } from './order.ts';

/** Documents, formats, language, paper, decimal mark and how uncertainties print. */
export function OrderForm({
  order,
  onChoose,
}: {
  readonly order: Order;
  readonly onChoose: (order: Order) => void;
}) {
  return (
    <section aria-labelledby="order-heading">
      <h2 id="order-heading">What is published</h2>
      <div className="order-lists">
        <Several
          legend="Documents"
          options={DOCUMENTS}
          chosen={order.documents}
          onChoose={(documents) => onChoose({ ...order, documents })}
        />
        <Several
          legend="Formats"
          options={FORMATS}
          chosen={order.formats}
          onChoose={(formats) => onChoose({ ...order, formats })}
        />
      </div>
      <div className="order-fields">
        <Choice
          label="Language"
          value={order.language}
          options={[
            { value: 'en', says: 'English' },
            { value: 'de', says: 'Deutsch' },
          ]}
          // Each language has a decimal mark of its own; it can be chosen anew.
          onChoose={(language) =>
            onChoose({ ...order, language, decimal: language === 'de' ? 'comma' : 'point' })
          }
        />
        <Choice
          label="Paper"
          value={order.paper}
          options={[
            { value: 'a4', says: 'A4' },
            { value: 'letter', says: 'Letter' },
          ]}
          onChoose={(paper) => onChoose({ ...order, paper })}
        />
        <Choice
          label="Decimal mark"
          value={order.decimal}
          options={[
            { value: 'point', says: 'point, 1.5' },
            { value: 'comma', says: 'comma, 1,5' },
          ]}
          onChoose={(decimal) => onChoose({ ...order, decimal })}
        />
        <div className="setting">
          <Choice
            label="Uncertainties"
            value={order.notation}
            options={[
              { value: 'plus-minus', says: '(1.23 ± 0.04) m' },
              { value: 'brackets', says: '1.23(4) m' },
            ]}
            onChoose={(notation) => onChoose({ ...order, notation })}
          />
          <Help about="how uncertainties print">
            <p>Both say the same: the digits in brackets count in the last places of the value.</p>
          </Help>
        </div>
      </div>
    </section>
  );
}

function Several({
  legend,
  options,
  chosen,
  onChoose,
}: {
  readonly legend: string;
  readonly options: readonly { readonly value: string; readonly says: string }[];
  readonly chosen: readonly string[];
  readonly onChoose: (chosen: string[]) => void;
}) {
  const toggle = (value: string, isOn: boolean): void =>
    onChoose(options.map((one) => one.value).filter((one) => (one === value ? isOn : chosen.includes(one))));
  return (
    <fieldset className="several">
      <legend className="said">{legend}</legend>
      {options.map(({ value, says }) => (
        <label key={value}>
          <input
            type="checkbox"
            checked={chosen.includes(value)}
            onChange={(event) => toggle(value, event.target.checked)}
          />
          {says}
        </label>
      ))}
    </fieldset>
  );
}
