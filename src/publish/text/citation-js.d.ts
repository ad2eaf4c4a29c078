/** The one function that is used of a library that brings no types of its own. */
declare module '@citation-js/core' {
  export const plugins: {
    readonly input: {
      chain(
        source: string,
        options: { readonly forceType: string; readonly generateGraph: boolean },
      ): unknown;
    };
  };
}

declare module '@citation-js/plugin-bibtex' {}
