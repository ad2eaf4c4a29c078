import { StillNeeded, useIsWhole } from '../../parts/still-needed.tsx';
import { KitsPart } from './kits-part.tsx';
import { VariationPart } from './variation-part.tsx';
import './adapt.css';

/** Kits judged by what is expected of them, and one quantity taken over a range. */
export default function AdaptScreen() {
  const isWhole = useIsWhole();
  if (!isWhole) return <StillNeeded />;
  return (
    <div className="adapt">
      <KitsPart />
      <VariationPart />
    </div>
  );
}
