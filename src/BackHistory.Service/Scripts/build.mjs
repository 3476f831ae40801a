// Bundles the page scripts into wwwroot/js and the styles into wwwroot/app.css; nothing is fetched at run time.
import { build } from 'esbuild';
import { cp, mkdir, rm } from 'node:fs/promises';

const served = '../wwwroot';
const out = `${served}/js`;
await rm(out, { recursive: true, force: true });
await mkdir(out, { recursive: true });
const common = { bundle: true, minify: true, logLevel: 'warning', legalComments: 'none' };
const script = { ...common, target: 'es2022' };
await build({
  ...script,
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
    copy: 'src/form/copy.ts',
    bring: 'src/practice/bring.ts',
    dryrun: 'src/practice/dryrun.ts',
    letter: 'src/practice/letter.ts',
    gauge: 'src/practice/gauge.ts',
  },
});
await build({ ...script, format: 'iife', entryPoints: ['src/visit/worker.ts'], outfile: `${out}/worker.js` });
await build({ ...common, entryPoints: ['styles/app.css'], outfile: `${served}/app.css` });
await cp('node_modules/pdfjs-dist/build/pdf.worker.min.mjs', `${out}/pdf.worker.min.mjs`);
