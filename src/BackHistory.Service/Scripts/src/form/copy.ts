// Copies what stands on a page, where the browser lets a page do that.

for (const place of document.querySelectorAll<HTMLElement>('[data-copies]:not([data-copied])')) {
  const text = place.dataset.copies ?? '';
  // Once, though the script is named beside every place.
  place.dataset.copied = '';
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'plain';
  button.textContent = 'Copy';
  button.setAttribute('aria-label', `Copy ${text}`);
  const told = document.createElement('span');
  told.setAttribute('role', 'status');
  told.className = 'soft small';
  button.addEventListener('click', () => {
    navigator.clipboard.writeText(text).then(
      () => (told.textContent = 'copied'),
      () => (told.textContent = `Mark it and copy it by hand: ${text}`),
    );
  });
  // Without a safe connection a browser copies nothing for a page.
  if ('clipboard' in navigator) place.append(' ', button, ' ', told);
}
