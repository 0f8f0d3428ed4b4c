// Owns the mark of a change: a filled dot for now, an open one for then, and the line between.

export const Dumbbell = ({
  now,
  then,
  x,
  height,
}: {
  readonly now: number;
  readonly then: number;
  readonly x: (minutes: number) => number;
  readonly height: number;
}) => {
  const y = height / 2;
  return (
    <g class="dumbbell">
      <path d={`M${x(now)} ${y}H${x(then)}`} />
      <circle class="open" cx={x(then)} cy={y} r={4.5} />
      <circle cx={x(now)} cy={y} r={4.5} />
    </g>
  );
};
