import { Deed } from './deed.tsx';

/** Long work: how far it is, in words, and a way to end it. Without `share` it only says that it goes on. */
export function Progress({
  what,
  share,
  onCancel,
}: {
  /** "Reading every entry". */
  what: string;
  /** From 0 to 1. */
  share?: number;
  onCancel?: () => void;
}) {
  return (
    <div className="progress">
      <label>
        <span role="status">{what}</span>
        {share === undefined ? null : ` ${Math.floor(share * 100)} %`}
        <progress max={1} value={share} />
      </label>
      {onCancel === undefined ? null : <Deed onDo={onCancel}>Stop this</Deed>}
    </div>
  );
}
