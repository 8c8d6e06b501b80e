/** What is set of one lever: its points, how each lies, what drives it, and what kind of switch it is. */
import { TOGGLE_SIZES } from '../../laying/index.ts';
import { TOGGLE_ACTIONS } from '../../parts/index.ts';
import { helped } from '../help/switch.ts';
import { useFollows } from '../lay/use-lay.ts';
import { Choice } from '../parts/choice.tsx';
import { workWords } from '../words/work.ts';
import type { WorkDrive, WorkLever, WorkPoint } from '../worker/work-view.ts';
import { useDeeds } from './deeds.ts';
import { useWork } from './use-work.ts';

export function LeverEdit({ lever }: { readonly lever: WorkLever }) {
  const follows = useFollows();
  return (
    <fieldset className="lever-edit" disabled={follows} {...helped('work.lever')}>
      <legend className="unseen">{workWords.editOf(lever.id)}</legend>
      {lever.works.map((worked, i) => (
        <PointRow key={worked.point} lever={lever} point={worked.point} opposite={worked.opposite} first={i === 0} />
      ))}
      <SwitchRows lever={lever} />
      <MoreRow lever={lever} />
    </fieldset>
  );
}

function PointRow({
  lever,
  point,
  opposite,
  first,
}: {
  readonly lever: WorkLever;
  readonly point: string;
  readonly opposite: boolean;
  readonly first: boolean;
}) {
  const deeds = useDeeds();
  const held = useWork((work) => work.held);
  const drives = useWork((work) => work.view?.drives ?? NO_DRIVES);
  const known = useWork((work) => work.view?.points.find(({ id }) => id === point) ?? null);
  return (
    <div className="point-row">
      <button
        type="button"
        className="tag mark point-tag"
        aria-pressed={held === point}
        aria-label={workWords.takeInHand(point)}
        title={workWords.takeInHand(point)}
        onClick={() => deeds.hold(held === point ? null : point)}
      >
        {point}
      </button>
      {first && !opposite ? (
        <span className="point-leads">{workWords.leads}</span>
      ) : (
        <fieldset className="seg" aria-label={workWords.lieOf(point)}>
          {[false, true].map((turned) => (
            <button
              key={String(turned)}
              type="button"
              aria-pressed={turned === opposite}
              onClick={() => deeds.put(point, lever.id, turned)}
            >
              {turned ? workWords.opposite : workWords.same}
            </button>
          ))}
        </fieldset>
      )}
      {known === null ? null : <DriveSelect point={known} drives={drives} />}
      {known === null || known.shares.length === 0 ? null : (
        <span className="point-shares">{workWords.sharesDrive(known.shares)}</span>
      )}
    </div>
  );
}

const NO_DRIVES: readonly WorkDrive[] = [];

/** What drives a point, with all points on the same drive. */
function DriveSelect({ point, drives }: { readonly point: WorkPoint; readonly drives: readonly WorkDrive[] }) {
  const deeds = useDeeds();
  const follows = useFollows();
  return (
    <Choice
      label={workWords.driveOf(point.id)}
      items={drives.map(({ part, name, what }) => ({ id: part, name: workWords.shortKind(part, name, what) }))}
      chosen={point.drive}
      empty={workWords.any}
      disabled={follows}
      onChoose={(id) => {
        const drive = drives.find(({ part }) => part === id);
        if (drive !== undefined)
          deeds.setDrive([point.id], drive.part, workWords.kindOf(drive.part, drive.name, drive.what));
      }}
    />
  );
}

function SwitchRows({ lever }: { readonly lever: WorkLever }) {
  const deeds = useDeeds();
  const follows = useFollows();
  const { action, actions, size, sizes, given, part } = lever.switch;
  return (
    <>
      <div className="switch-row">
        <span aria-hidden="true">{workWords.switch}</span>
        <fieldset className="seg" aria-label={workWords.switchKind}>
          {TOGGLE_ACTIONS.map((each) => (
            <button
              key={each}
              type="button"
              aria-pressed={each === action}
              disabled={actions[each] === null}
              onClick={() => {
                if (each !== action) deeds.setSwitch(lever.id, actions[each], workWords.actions[each]);
              }}
            >
              {workWords.actions[each]}
            </button>
          ))}
        </fieldset>
      </div>
      <div className="switch-row">
        <span aria-hidden="true">{workWords.size}</span>
        <Choice
          label={workWords.size}
          items={TOGGLE_SIZES.flatMap((each) =>
            sizes[each] === null ? [] : [{ id: each, name: workWords.sizes[each] }],
          )}
          chosen={size}
          empty={workWords.ownPart}
          disabled={follows}
          onChoose={(id) => {
            const wanted = TOGGLE_SIZES.find((each) => each === id);
            if (wanted !== undefined) deeds.setSwitch(lever.id, sizes[wanted], workWords.sizes[wanted]);
          }}
        />
        {given ? (
          <button
            type="button"
            className="btn quiet"
            title={part}
            onClick={() => deeds.setSwitch(lever.id, null, workWords.chosenByTool)}
          >
            {workWords.leaveToTool}
          </button>
        ) : (
          <span className="by-tool">{workWords.chosenByTool}</span>
        )}
      </div>
    </>
  );
}

/** A point more, and the lever parted. */
function MoreRow({ lever }: { readonly lever: WorkLever }) {
  const deeds = useDeeds();
  const follows = useFollows();
  const points = useWork((work) => work.view?.points ?? NO_POINTS);
  const own = lever.works.map(({ point }) => point);
  const others = points.filter(({ id, free }) => !free && !own.includes(id));
  return (
    <div className="switch-row">
      <span aria-hidden="true">{workWords.addPoint}</span>
      <Choice
        label={workWords.addPointTo(lever.id)}
        items={others.map(({ id, levers }) => ({ id, name: workWords.pointFrom(id, levers) }))}
        chosen={null}
        empty={workWords.addWhich}
        disabled={follows}
        onChoose={(point) => deeds.put(point, lever.id)}
      />
      {own.length > 1 ? (
        <button
          type="button"
          className="btn"
          title={workWords.partOf(lever.id, own)}
          onClick={() => deeds.part(lever.id)}
        >
          {workWords.part}
        </button>
      ) : null}
    </div>
  );
}

const NO_POINTS: readonly WorkPoint[] = [];
