// What a column may be, by what it is called.
import type { Field } from './bringWire';

/** As two names are compared: without capitals, and without what stands between letters and digits. */
const plain = (name: string): string => name.toLowerCase().replaceAll(/[^a-z0-9]/g, '');

/** A column that is called as a field is proposed; what it means is still the person's to say. */
export const proposed = (header: string, fields: Field[]): Field | undefined => fields.find(f => plain(f.key) === plain(header));
