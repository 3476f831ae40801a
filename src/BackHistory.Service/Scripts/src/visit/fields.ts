// What stands in the fields of a form, by their names; of choices only those that were taken.

export const fieldsOf = (f: HTMLFormElement): Record<string, string> => {
  const out: Record<string, string> = {};
  for (const el of f.elements) {
    if (
      !(el instanceof HTMLInputElement || el instanceof HTMLSelectElement || el instanceof HTMLTextAreaElement) ||
      !el.name ||
      el.type === 'file' ||
      el.name.startsWith('__') ||
      (el instanceof HTMLInputElement && el.type === 'radio' && !el.checked)
    )
      continue;
    out[el.name] = el instanceof HTMLInputElement && el.type === 'checkbox' ? (el.checked ? 'true' : '') : el.value;
  }
  return out;
};
