/** A field that chooses one of several, opened before anything is changed: arrow keys on it alone do nothing to the panel. */
import { Button } from 'react-aria-components/Button';
import { Label } from 'react-aria-components/Label';
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox';
import { Popover } from 'react-aria-components/Popover';
import { Select, SelectValue } from 'react-aria-components/Select';
import { ChevronDown } from '../icons.tsx';

export interface ChoiceItem {
  readonly id: string;
  readonly name: string;
}

export function Choice({
  label,
  seen = false,
  items,
  chosen,
  empty,
  disabled = false,
  onChoose,
}: {
  readonly label: string;
  /** Does the label stand in the field, or is it for a screen reader alone? */
  readonly seen?: boolean;
  readonly items: readonly ChoiceItem[];
  readonly chosen: string | null;
  /** What stands there while nothing is chosen. */
  readonly empty: string;
  readonly disabled?: boolean;
  readonly onChoose: (id: string) => void;
}) {
  return (
    <Select
      className="choice-field"
      value={chosen}
      onChange={(key) => {
        if (key !== null && key !== chosen) onChoose(String(key));
      }}
      isDisabled={disabled || items.length === 0}
      placeholder={empty}
    >
      <Label className={seen ? 'choice-label' : 'unseen'}>{label}</Label>
      <Button className="choice-button">
        <SelectValue className="choice-value" />
        <ChevronDown />
      </Button>
      <Popover className="sel-pop" offset={4}>
        <ListBox className="sel-list" items={items}>
          {(item) => (
            <ListBoxItem className="sel-item" id={item.id} textValue={item.name}>
              {item.name}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  );
}
