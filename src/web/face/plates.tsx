import { memo } from 'react';
import type { DrawnPlate, DrawnPlatform, Face } from '../../face/index.ts';
import type { Millimetre, Spot } from '../../units/index.ts';
import { fitPlate, growth } from '../run/plates.ts';
import type { ViewPlace } from '../worker/types.ts';

/** One plate, drawn anew only where it or what it names has moved. */
const Plate = memo(function Plate({
  plate: whole,
  pxPerMm,
  about,
  width: across,
  height: down,
}: {
  readonly plate: DrawnPlate;
  readonly pxPerMm: number;
  readonly about: Spot | null;
  readonly width: Millimetre;
  readonly height: Millimetre;
}) {
  const { plate, at, scale, lines, width, height } = fitPlate(whole, pxPerMm, about, { width: across, height: down });
  const title = plate.kind === 'title';
  const corner = title ? 1.6 : 1.2;
  return (
    <g transform={`translate(${at[0]} ${at[1]}) scale(${scale}) translate(${-width / 2} ${-height / 2})`}>
      <rect x=".1" y=".8" width={width + 0.5} height={height + 0.3} rx={corner} fill="#000" opacity=".12" />
      <rect x=".2" y=".6" width={width + 0.1} height={height + 0.1} rx={corner} fill="#000" opacity=".2" />
      <rect width={width} height={height} rx={corner} className="plate" strokeWidth={title ? 0.35 : 0.3} />
      <rect width={width} height={height} rx={corner} fill="url(#f-plate)" />
      {title && height > 12 ? (
        <rect
          x="2.4"
          y="2.4"
          width={width - 4.8}
          height={height - 4.8}
          rx=".8"
          fill="none"
          className="plate-rule"
          strokeWidth=".55"
        />
      ) : null}
      {lines.map((line) => (
        <text
          key={`${line.y}`}
          className="engraved"
          x={width / 2 + line.spacing / 2}
          y={line.y}
          textAnchor="middle"
          fontSize={line.size}
          fontWeight={line.weight}
          letterSpacing={line.spacing}
        >
          {line.text}
        </text>
      ))}
      {plate.screws
        ? [6, width - 6].map((x) => (
            <circle key={x} cx={x} cy={height / 2} r="1.5" fill="url(#f-nut)" className="metal-thin" strokeWidth=".2" />
          ))
        : null}
    </g>
  );
});

/** Type of a platform's name, and the most of the slab's depth that it may take when it grows. */
const NAME_MM = 7.6;
const NAME_SHARE = 0.58;

function Platform({ platform, pxPerMm }: { readonly platform: DrawnPlatform; readonly pxPerMm: number }) {
  const [width, height] = platform.size;
  const size = NAME_MM * Math.min(growth(NAME_MM, pxPerMm), (height * NAME_SHARE) / NAME_MM);
  return (
    <g>
      <rect
        x={platform.at[0] + 0.1}
        y={platform.at[1] + 0.7}
        width={width + 0.5}
        height={height + 0.3}
        rx=".8"
        fill="#000"
        opacity=".24"
      />
      <rect
        x={platform.at[0]}
        y={platform.at[1]}
        width={width}
        height={height}
        rx=".8"
        className="platform"
        strokeWidth=".35"
      />
      {platform.names.map((name) => (
        <text
          key={name.text}
          className="engraved"
          x={name.at[0]}
          y={name.at[1]}
          textAnchor={name.anchor}
          fontSize={size}
          fontWeight="600"
        >
          {name.text}
        </text>
      ))}
    </g>
  );
}

/** Platforms and plates, each big enough to be read. */
export const Plates = memo(function Plates({
  face,
  places,
  pxPerMm,
}: {
  readonly face: Face;
  readonly places: readonly ViewPlace[];
  readonly pxPerMm: number;
}) {
  const spots = new Map(places.map(({ id, at }) => [id, at]));
  return (
    <>
      {face.platforms.map((platform) => (
        <Platform key={`${platform.at[0]} ${platform.at[1]}`} platform={platform} pxPerMm={pxPerMm} />
      ))}
      {face.plates.map((plate) => (
        <Plate
          key={`${plate.kind} ${plate.id} ${plate.at[0]}`}
          plate={plate}
          pxPerMm={pxPerMm}
          about={spots.get(plate.id) ?? null}
          width={face.width}
          height={face.height}
        />
      ))}
    </>
  );
});
