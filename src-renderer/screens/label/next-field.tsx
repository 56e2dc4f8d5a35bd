import { useContext, useEffect } from 'react';
import { FormScope, fieldId } from '../../parts/field.tsx';

/** Puts the cursor into a field that has only just come into the form. */
export function NextField({ name }: { name: string | undefined }) {
  const scope = useContext(FormScope);
  useEffect(() => {
    if (name !== undefined) document.getElementById(fieldId(scope, name))?.focus();
  }, [name, scope]);
  return null;
}
