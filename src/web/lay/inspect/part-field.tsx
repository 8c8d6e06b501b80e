import { Choice } from '../../parts/choice.tsx';
import { layWords } from '../../words/lay.ts';

/** The part of a thing: those that have words, and its own where that is another. */
export function PartField(props: {
  /** What parts are called, by id. */
  readonly parts: Readonly<Record<string, string>>;
  readonly part: string;
  readonly choose: (part: string) => void;
}) {
  const { parts, part, choose } = props;
  return (
    <div className="fld">
      <span aria-hidden="true">{layWords.part}</span>
      <Choice
        label={layWords.part}
        items={[...new Set([...Object.keys(parts), part])].map((id) => ({ id, name: parts[id] ?? id }))}
        chosen={part}
        empty=""
        onChoose={choose}
      />
    </div>
  );
}
