/** The names on the line between a window and the main process; the only three there are. */
export const channels = { call: 'foldbook:call', file: 'foldbook:file', paper: 'foldbook:paper' } as const;
