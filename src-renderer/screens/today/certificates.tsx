import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Sentence } from '../../parts/sentence.tsx';

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
        <strong>{one.name}</strong> of {one.shown} ends before {one.waiting.heads} head are clear as organic.
      </Sentence>
    ),
  );
}
