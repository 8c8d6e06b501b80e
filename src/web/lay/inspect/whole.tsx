import { PAINTS } from '../../../face/index.ts';
import { putCornerFixings, putTitle, setFace, setPanelName, titleOf } from '../../../laying/index.ts';
import { DEFAULTS } from '../../../panel/index.ts';
import { layWords } from '../../words/lay.ts';
import { useLay } from '../use-lay.ts';
import { Choice, LengthField, Section, TextField } from './fields.tsx';

/** A sheet is no smaller than a plate, and no thinner than a foil: mm. */
const LEAST = { side: 10, thickness: 0.1 } as const;

/** The panel itself: what is shown where nothing is picked. */
export function WholeInspector() {
  const panel = useLay((lay) => lay.laid);
  const drawn = useLay((lay) => lay.laidView?.face ?? null);
  const unit = useLay((lay) => lay.unit);
  const chooseUnit = useLay((lay) => lay.chooseUnit);
  const singleKeys = useLay((lay) => lay.singleKeys);
  const switchSingleKeys = useLay((lay) => lay.switchSingleKeys);
  const edit = useLay((lay) => lay.edit);
  const pick = useLay((lay) => lay.pick);
  const face = panel.face ?? {};
  const fallback = DEFAULTS.face;
  const title = titleOf(panel);
  const fixings = face.fixings ?? [];
  const width = face.width ?? drawn?.width ?? null;
  const height = face.height ?? drawn?.height ?? null;
  const corners = width === null || height === null ? null : putCornerFixings(panel, width, height);
  const plate = width === null || height === null ? null : putTitle(panel, width, height);
  return (
    <>
      <div className="side-name">
        <TextField label={layWords.name} value={panel.name} subject="" set={(name) => setPanelName(panel, name)} />
      </div>
      <Section help="sec.face" head={layWords.face}>
        <div className="pair">
          <LengthField
            label={layWords.faceWidth}
            value={face.width}
            fallback={drawn?.width ?? null}
            least={LEAST.side}
            subject=""
            set={(to) => setFace(panel, { width: to })}
          />
          <LengthField
            label={layWords.faceHeight}
            value={face.height}
            fallback={drawn?.height ?? null}
            least={LEAST.side}
            subject=""
            set={(to) => setFace(panel, { height: to })}
          />
        </div>
        <LengthField
          label={layWords.thickness}
          inline
          value={face.thickness}
          fallback={fallback.thickness}
          least={LEAST.thickness}
          subject=""
          set={(thickness) => setFace(panel, { thickness })}
        />
        <TextField
          label={layWords.material}
          value={face.material}
          placeholder={fallback.material}
          list={Object.keys(layWords.materials)}
          subject=""
          set={(material) => setFace(panel, { material })}
        />
        <TextField
          label={layWords.paint}
          value={face.colour}
          placeholder={fallback.colour}
          list={Object.keys(PAINTS)}
          subject=""
          set={(colour) => setFace(panel, { colour })}
        />
      </Section>
      <Section help="sec.unit" head={layWords.unit}>
        <Choice
          label={layWords.unit}
          options={[
            ['mm', layWords.units.mm],
            ['in', layWords.units.in],
          ]}
          value={unit}
          choose={chooseUnit}
        />
      </Section>
      <Section help="sec.view" head={layWords.view}>
        <Choice
          label={layWords.view}
          options={[
            ['front', layWords.views.front],
            ['rear', layWords.views.rear],
          ]}
          value={face.view ?? fallback.view}
          choose={(view) => edit(setFace(panel, { view }))}
        />
        <p className="small">{layWords.viewNote}</p>
      </Section>
      <Section help="sec.keys" head={layWords.singleKeys}>
        <Choice
          label={layWords.singleKeys}
          options={[
            ['on', layWords.singleKeysOn],
            ['off', layWords.singleKeysOff],
          ]}
          value={singleKeys ? 'on' : 'off'}
          choose={(to) => switchSingleKeys(to === 'on')}
        />
        <p className="small">{layWords.singleKeysNote}</p>
      </Section>
      <Section help="sec.fixings" head={layWords.fixings} note={layWords.fixingsOf(fixings.length)}>
        <div className="deal">
          {fixings.map(({ at }, i) => (
            <button key={at.join()} type="button" className="btn" onClick={() => pick([{ list: 'fixings', id: i }])}>
              {layWords.pickHole(i)}
            </button>
          ))}
          {corners === null ? null : (
            <button type="button" className="btn" onClick={() => edit(corners)}>
              {layWords.cornersOfSheet}
            </button>
          )}
        </div>
      </Section>
      <Section
        help="sec.title"
        head={layWords.titlePlate}
        {...(title === null ? {} : { note: panel.plates?.[title]?.text ?? '' })}
      >
        <div className="deal">
          {title === null ? (
            <button type="button" className="btn" disabled={plate === null} onClick={() => edit(plate)}>
              {layWords.putTitle}
            </button>
          ) : (
            <button type="button" className="btn" onClick={() => pick([{ list: 'plates', id: title }])}>
              {layWords.pickTitle}
            </button>
          )}
        </div>
      </Section>
    </>
  );
}
