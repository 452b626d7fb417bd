// page: a button that is gone with what it did → the focus on a pane, so that keys go on from there.

/** Give the focus to a pane once the change is drawn, where nothing else has it by then.
 *  @param button still in the page; what it belongs to may vanish.
 */
export function focusAfter(button: Element, pane: "board" | "picture"): void {
  const view = button.closest(".draw-view");
  requestAnimationFrame(() => {
    const { activeElement, body } = document;
    if (activeElement !== null && activeElement !== body) return;
    const wanted = view?.querySelector<HTMLElement>(`[data-pane="${pane}"]`);
    (wanted ?? view?.querySelector<HTMLElement>('[data-pane="board"]'))?.focus();
  });
}
