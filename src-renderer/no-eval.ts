import { config } from 'zod';

// Must be the first import of main.tsx: the schema library otherwise tries to make code from text when the
// first schema is made, and the content policy reports that even though the library catches it.
config({ jitless: true });
