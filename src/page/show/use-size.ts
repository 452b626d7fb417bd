// page: an element → its size on the screen, followed as it changes.
import type { RefObject } from "preact";
import { useLayoutEffect, useState } from "preact/hooks";

/** Follow the size of an element, px of the page; zero until it is on the screen. */
export function useSize(element: RefObject<HTMLElement | null>): {
  readonly width: number;
  readonly height: number;
} {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const target = element.current;
    if (target === null) return undefined;
    const read = (): void => {
      const { clientWidth: width, clientHeight: height } = target;
      setSize((now) => (now.width === width && now.height === height ? now : { width, height }));
    };
    read();
    const observer = new ResizeObserver(read);
    observer.observe(target);
    return () => observer.disconnect();
  }, []);
  return size;
}
