import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Called } from '../../hooks/use-call.ts';

/** What the form of a declaration holds while it is filled in. */
export type DeclareValues = {
  readonly holding: string;
  readonly to: string;
  readonly day: string;
  readonly time: string;
  readonly going: readonly string[];
  /** Who goes accompanied, because a needle may be in it. */
  readonly accompanied: readonly string[];
  readonly signer: string;
  readonly answer: string;
  readonly paper: string;
};

/** What the desk says of the declaration as it stands in the form. */
export type Preview = Called<Reply<'preview-declaration'>>;
