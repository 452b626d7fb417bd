// serve: where a bench listens.

/** Where a bench listens unless it is told otherwise; when others have it, at one of the ports after it. */
export const BENCH_PORT = 4977;
/** How many ports are tried. */
export const BENCH_PORTS = 10;
