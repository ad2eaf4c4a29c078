import { Conditions } from './conditions.tsx';
import { Derivation } from './derivation.tsx';
import { Effects } from './effects.tsx';
import { Equations } from './equations.tsx';
import { Steps } from './steps.tsx';
import { Tables } from './tables.tsx';
import './model.css';

/** The equations in plain notation and typeset, the effects, the derivation with its checks, and the choice of a step. */
export default function ModelScreen() {
  return (
    <div className="model">
      <Equations />
      <Tables />
      <Conditions />
      <Effects />
      <Derivation />
      <Steps />
    </div>
  );
}
