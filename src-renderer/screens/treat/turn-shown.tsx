/** Which dose of a vaccine's course it is, beneath the dose in a plan. Nothing where it is no vaccine. */
export function TurnShown({ turn }: { turn: string | null | undefined }) {
  return turn == null ? null : <small className="race-sentence">{turn}</small>;
}
