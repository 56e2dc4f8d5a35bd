import { Choice } from '../../parts/field.tsx';
import { Screen } from '../../parts/screen.tsx';
import { useLook } from '../../shell/look.ts';

/** How the screens look on this computer. Nothing of it goes into the book. */
export default function LookScreen() {
  const theme = useLook('theme');
  const contrast = useLook('contrast');
  const size = useLook('size');
  return (
    <Screen
      title="How Foldbook looks here"
      lead="For this computer alone. It changes at once and is not written in the book."
    >
      <div className="form">
        <Choice
          name="theme"
          label="Light or dark"
          value={theme.chosen}
          onChange={theme.choose}
          options={[
            { value: 'system', label: 'As this computer is set' },
            { value: 'light', label: 'Light', hint: 'for daylight' },
            { value: 'dark', label: 'Dark', hint: 'for a shed at night' },
          ]}
        />
        <Choice
          name="size"
          label="Letters"
          value={size.chosen}
          onChange={size.choose}
          options={[
            { value: 'usual', label: 'As this computer is set' },
            { value: 'large', label: 'Large', hint: 'to be read at arm’s length' },
            { value: 'larger', label: 'Larger', hint: 'to be read from the race' },
          ]}
        />
        <Choice
          name="contrast"
          label="Contrast"
          value={contrast.chosen}
          onChange={contrast.choose}
          options={[
            { value: 'usual', label: 'As this computer is set' },
            { value: 'high', label: 'Highest', hint: 'black and white, heavy lines' },
          ]}
        />
      </div>
    </Screen>
  );
}
