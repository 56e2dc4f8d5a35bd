import { desk } from '../../desk.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { MadePaper } from '../../parts/made-paper.tsx';
import { Screen } from '../../parts/screen.tsx';
import { useParams } from '../../router.tsx';

/** Prints the report of one reaction for the vet. */
export default function ReactionPaperScreen() {
  const { reaction } = useParams('book/reaction-paper/:reaction');
  return (
    <Screen
      title="Report for the vet"
      lead="The farm’s own page: the animal, the treatment with its batch, what was seen. The vet knows whether the maker and the authority have to be told."
      deeds={<DeedLink to="book/safety">All of them</DeedLink>}
    >
      <MadePaper
        deed="Make the report"
        weight="main"
        title="Report for the vet"
        saveAs="reaction-report.pdf"
        onMake={() => desk.call('reaction-paper', { reaction })}
      />
    </Screen>
  );
}
