// What a column may be, by what it is called.
import type { Field } from './bringWire';

/** As two names are compared: without capitals, and without what stands between letters and digits. */
const plain = (name: string): string => name.toLowerCase().replaceAll(/[^\p{L}\p{N}]/gu, '');

/** A column that is called as a field is, in any language, is proposed; what it means is still the person's to say. */
export const proposed = (header: string, fields: Field[]): Field | undefined =>
  fields.find(f => [f.key, ...f.names].some(name => plain(name) === plain(header)));
