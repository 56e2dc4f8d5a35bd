interface ImportMeta {
  /** The bundler's list of files by pattern, each loaded when called. */
  glob<M>(pattern: string): Record<string, () => Promise<M>>;
}
