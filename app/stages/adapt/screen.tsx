import { StillNeeded, useIsWhole } from '../../parts/still-needed.tsx';
import { BestChoicePart } from './best-choice-part.tsx';
import { KitsPart } from './kits-part.tsx';
import { VariationPart } from './variation-part.tsx';
import './adapt.css';

/** Kits judged by what is expected of them, quantities taken over ranges, and the best choice under limits. */
export default function AdaptScreen() {
  const isWhole = useIsWhole();
  if (!isWhole) return <StillNeeded />;
  return (
    <div className="adapt">
      <KitsPart />
      <VariationPart />
      <BestChoicePart />
    </div>
  );
}
