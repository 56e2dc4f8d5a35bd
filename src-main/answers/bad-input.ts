import type { z } from 'zod';
import { Refusal } from '../../src-shared/refusal.ts';

/** "lines.0.medicine" as a person would say it. */
function spoken(path: readonly PropertyKey[]): string {
  return path
    .map((part) =>
      typeof part === 'number'
        ? `no. ${part + 1}`
        : String(part)
            .replace(/([A-Z])/g, ' $1')
            .toLowerCase(),
    )
    .join(', ');
}

/** One sentence for the first thing that is wrong with a request, naming its field. */
export function badInput(issues: readonly z.core.$ZodIssue[]): Refusal {
  const issue = issues[0];
  if (!issue) return new Refusal('bad-input', 'The request could not be read.');
  const where = spoken(issue.path) || 'the request';
  const field = issue.path.map(String).join('.');
  const says = (): string => {
    if (issue.code === 'unrecognized_keys')
      return `there is nothing called ${issue.keys.join(', ')} in ${where}`;
    if (issue.code === 'invalid_type') return `${where} is missing or not of the right kind`;
    if (issue.code === 'invalid_value')
      return `${where} must be one of ${issue.values.map(String).join(', ')}`;
    if (issue.code === 'too_small') return `${where} is empty or too small`;
    if (issue.code === 'too_big') return `${where} is too long or too large`;
    return `${where} cannot be read as it stands`;
  };
  const text = says();
  return new Refusal('bad-input', `${text.charAt(0).toUpperCase()}${text.slice(1)}.`, { field });
}
