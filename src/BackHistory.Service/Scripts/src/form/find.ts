// The find box answers to "/" from everywhere on a page where nothing is being typed.
document.addEventListener('keydown', e => {
  const at = document.activeElement;
  if (
    e.key !== '/' ||
    e.ctrlKey ||
    e.metaKey ||
    at instanceof HTMLInputElement ||
    at instanceof HTMLTextAreaElement ||
    at instanceof HTMLSelectElement
  )
    return;
  const box = document.querySelector<HTMLInputElement>('#find');
  if (!box) return;
  e.preventDefault();
  // On a telephone the box lies behind the menu.
  if (!box.checkVisibility()) document.querySelector<HTMLElement>('#ways')?.showPopover();
  box.focus();
  box.select();
});
