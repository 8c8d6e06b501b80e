import { Button } from 'react-aria-components/Button';
import { Label } from 'react-aria-components/Label';
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox';
import { Popover } from 'react-aria-components/Popover';
import { Select, SelectValue } from 'react-aria-components/Select';
import { ChevronDown } from '../icons.tsx';
import { words } from '../words/run.ts';
import type { ViewPlace } from '../worker/types.ts';

export interface PlaceSelectProps {
  readonly label: string;
  readonly places: readonly Pick<ViewPlace, 'id' | 'name'>[];
  readonly chosen: string | null;
  readonly disabled?: boolean;
  readonly onChoose: (place: string) => void;
}

/** A field that chooses a place by its name. */
export function PlaceSelect(props: PlaceSelectProps) {
  return (
    <Select
      className="sel"
      value={props.chosen}
      onChange={(key) => {
        if (key !== null) props.onChoose(String(key));
      }}
      isDisabled={props.places.length === 0 || props.disabled === true}
      placeholder={words.choose}
    >
      <Label className="sel-label">{props.label}</Label>
      <Button className="sel-field">
        <SelectValue className="sel-value" />
        <ChevronDown />
      </Button>
      <Popover className="sel-pop" offset={4}>
        <ListBox className="sel-list" items={props.places}>
          {(place) => (
            <ListBoxItem className="sel-item" id={place.id} textValue={place.name}>
              {place.name}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  );
}
