import './flock.css';
import { useId } from 'react';
import type { ChoiceOption } from '../../parts/field.tsx';

/** A small box that drops down, with its label beside or above it: for narrowing a list and naming columns. */
export function Box({
  label,
  value,
  options,
  isFaint = false,
  onChange,
}: {
  label: string;
  value: string;
  options: readonly ChoiceOption[];
  /** Nothing is chosen in it, and nothing need be. */
  isFaint?: boolean;
  onChange: (value: string) => void;
}) {
  const id = useId();
  return (
    <div className={isFaint ? 'flock-box is-none' : 'flock-box'}>
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </div>
  );
}
