import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { figureToSvg, sizes } from '../../src/figure/index.ts';
import { LAB_FILE } from '../bench/lab-file.ts';
import { useTask } from '../compute/use-task.ts';
import type { ShelvedLab } from '../link/forms.ts';
import { fetchText } from '../link/server.ts';
import { useFigureTheme } from '../parts/theme.ts';

/** The lab's ledger in small, drawn once it comes into sight; it tells labs apart and says nothing more. */
export function LabPicture({ lab }: { readonly lab: ShelvedLab }) {
  const place = useRef<HTMLDivElement>(null);
  const [isSeen, setSeen] = useState(false);
  const [text, setText] = useState<string | null>(null);
  const theme = useFigureTheme();
  const id = useId().replace(/[^a-z0-9]/gi, '');
  useEffect(() => {
    if (place.current === null) return;
    const watch = new IntersectionObserver((entries) => {
      if (entries.some(({ isIntersecting }) => isIntersecting)) setSeen(true);
    });
    watch.observe(place.current);
    return () => watch.disconnect();
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a file of another digest is another text.
  useEffect(() => {
    let isWanted = isSeen;
    if (isSeen)
      void fetchText(lab.id, LAB_FILE).then((answer) => {
        if (isWanted && answer.kind === 'ok') setText(answer.value.text);
      });
    return () => {
      isWanted = false;
    };
  }, [isSeen, lab.id, lab.digest]);
  const question = useMemo(() => (text === null ? null : { text }), [text]);
  const { answer, isWorking } = useTask('follow', 'cover', question);
  const svg = useMemo(() => {
    const figure = answer?.figure ?? null;
    return figure === null ? '' : figureToSvg(figure, { theme, size: sizes.thumbnail, idPrefix: id });
  }, [answer, theme, id]);
  return (
    <div
      className="lab-picture"
      ref={place}
      aria-hidden="true"
      data-busy={isWorking}
      // biome-ignore lint/security/noDangerouslySetInnerHtml: from our own writer of SVG, which escapes every text.
      dangerouslySetInnerHTML={{ __html: svg }}
    />
  );
}
