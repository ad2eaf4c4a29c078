import { ShelfScreen } from '../shelf/shelf-screen.tsx';
import { OpenBench } from './open-bench.tsx';
import { useRoute } from './route.ts';

/** The shelf of labs, or one lab on the bench. */
export function App() {
  const route = useRoute();
  if (route.kind === 'shelf') return <ShelfScreen />;
  return <OpenBench key={route.id} id={route.id} stage={route.stage} />;
}
