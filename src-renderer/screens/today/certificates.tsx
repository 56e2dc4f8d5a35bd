import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Sentence } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

/** Certificates that end before somebody who waits is clear as organic. */
export function CertificatesEnding() {
  const call = useCall('certificates', {});
  if (call.state !== 'ready') return null;
  return call.value.certificates.map((one) =>
    one.waiting === undefined ? null : (
      <Sentence
        key={one.certificate}
        mind
        margin="Certificate"
        small={one.waiting.says}
        deed={<DeedLink to="farm/certificates">Open the certificates</DeedLink>}
      >
        <strong>{one.name}</strong> of {one.shown} does not reach the organic date of{' '}
        {count(one.waiting.heads, 'head', 'head')}.
      </Sentence>
    ),
  );
}
