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
  box.focus();
  box.select();
});
