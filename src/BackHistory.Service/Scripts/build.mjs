// Bundles the page scripts into wwwroot/js; nothing is fetched at run time.
import { build } from 'esbuild';
import { cp, mkdir, rm } from 'node:fs/promises';

const out = '../wwwroot/js';
await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });
const common = { bundle: true, minify: true, target: 'es2022', logLevel: 'warning', legalComments: 'none' };
await build({
  ...common,
  format: 'esm',
  splitting: true,
  outdir: out,
  chunkNames: 'part-[hash]',
  entryPoints: {
    desk: 'src/desk/desk.ts',
    back: 'src/back/back.ts',
    chart: 'src/chart/chart.ts',
    visit: 'src/visit/visit.ts',
    form: 'src/form/form.ts',
    find: 'src/form/find.ts',
    bring: 'src/practice/bring.ts',
    dryrun: 'src/practice/dryrun.ts',
  },
});
await build({ ...common, format: 'iife', entryPoints: ['src/visit/worker.ts'], outfile: `${out}/worker.js` });
await cp('node_modules/pdfjs-dist/build/pdf.worker.min.mjs', `${out}/pdf.worker.min.mjs`);
