/** Something is being computed for the first time; there is nothing older to show. */
export function Waiting() {
  return (
    <p className="quiet" data-busy="true" role="status">
      Working it out …
    </p>
  );
}
