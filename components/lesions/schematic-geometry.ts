export interface Point {
  readonly x: number;
  readonly y: number;
}

const round = (value: number): number => Math.round(value * 10) / 10;
/** Degrees clockwise from straight up. */
export function polar(centre: Point, radius: number, degrees: number): Point {
  const radians = (degrees * Math.PI) / 180;
  return { x: round(centre.x + radius * Math.sin(radians)), y: round(centre.y - radius * Math.cos(radians)) };
}

const at = ({ x, y }: Point) => `${x} ${y}`;

export interface Sector {
  readonly centre: Point;
  readonly outer: number;
  readonly inner: number;
  /** Middle of the sector and how far it reaches to either side. */
  readonly degrees: number;
  readonly half: number;
}

/** Corners of a sector with a slit of even width to its neighbours: outer first, then inner, each clockwise. */
export function cornersOf({
  centre,
  outer,
  inner,
  degrees,
  half,
}: Sector): readonly [Point, Point, Point, Point] {
  const slit = (radius: number) => (1.8 * 180) / (Math.PI * radius);
  const corner = (radius: number, side: 1 | -1) =>
    polar(centre, radius, degrees + side * (half - slit(radius)));
  return [corner(outer, -1), corner(outer, 1), corner(inner, 1), corner(inner, -1)];
}

/** A segment of a ring as a path. */
export function sectorPath(sector: Sector): string {
  const [a, b, c, d] = cornersOf(sector);
  const { outer, inner } = sector;
  return `M${at(a)}A${outer} ${outer} 0 0 1 ${at(b)}L${at(c)}A${inner} ${inner} 0 0 0 ${at(d)}Z`;
}

/** A bar of a given thickness from one point to another, as its four corners. */
export function barCorners(from: Point, to: Point, thickness: number): readonly [Point, Point, Point, Point] {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const [nx, ny] = [(-(to.y - from.y) * thickness) / 2 / length, ((to.x - from.x) * thickness) / 2 / length];
  const corner = (point: Point, side: 1 | -1) => ({
    x: round(point.x - side * nx),
    y: round(point.y - side * ny),
  });
  return [corner(from, 1), corner(to, 1), corner(to, -1), corner(from, -1)];
}

export function polygonPath(corners: readonly Point[]): string {
  return `M${corners.map(at).join('L')}Z`;
}
