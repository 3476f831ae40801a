namespace BackHistory.Browser.Tests.Crawl;

/// <summary>What the crawl asks of a page, in the page's own language.</summary>
internal static class PageScripts
{
    /// <summary>Forms with their buttons, and links.</summary>
    public const string Read = """
        () => {
          const words = e => (e.textContent ?? '').trim().replace(/\s+/g, ' ').slice(0, 60);
          const forms = [...document.forms].map((f, at) => {
            const sends = (f.dataset.send ?? '').split(' ');
            const hidden = [...f.elements].filter(
              e => e.type === 'hidden' && /^[a-z-]{2,24}$/.test(e.value) && /^[A-Za-z.]+$/.test(e.name) && e.name !== '_handler',
            );
            return {
              at,
              verb: f.dataset.send ? sends[0] : (f.getAttribute('method') ?? 'get').toUpperCase(),
              action: new URL(f.dataset.send ? sends[1] : (f.getAttribute('action') ?? location.href), location.href).href,
              handler: f.querySelector('input[name=_handler]')?.value ?? '',
              does: hidden.map(e => `${e.name}=${e.value}`).join('&'),
              near: f.closest('li,tr')?.textContent ?? '',
              aside: f.matches('[hidden],[data-passkey]') || f.closest('[hidden],dialog') !== null,
              buttons: [...f.elements]
                .map((e, index) => ({ e, index }))
                .filter(({ e }) => (e.tagName === 'BUTTON' || e.tagName === 'INPUT') && e.type === 'submit' && !e.disabled
                  && !e.hidden && e.ariaHidden !== 'true')
                .map(({ e, index }) => ({
                  index,
                  says: words(e),
                  does: e.name ? `${e.name}=${e.value.split(/[/?]/).filter(v => !/[0-9a-f]{8}-/.test(v)).join('/')}` : '',
                  action: e.hasAttribute('formaction') ? new URL(e.getAttribute('formaction'), location.href).href : '',
                  aside: e.hasAttribute('data-native') || e.hasAttribute('formtarget'),
                })),
            };
          });
          return JSON.stringify({
            forms,
            links: [...new Set([...document.querySelectorAll('a[href]')].map(a => a.href))],
            ids: [...document.querySelectorAll('[id]')].map(e => e.id).filter((id, at, all) => all.indexOf(id) !== at),
          });
        }
        """;

    /// <summary>Fills a form by rules, and says what stands in it then and which fields it would hold back.</summary>
    public const string Fill = """
        ({ at, nth, today, password, horse }) => {
          const form = document.forms[at];
          for (let fold = form.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null) fold.open = true;
          for (const fold of form.querySelectorAll('details')) fold.open = true;
          const day = (from, by) => new Date(Date.parse(`${from}T12:00:00Z`) + by * 864e5).toISOString().slice(0, 10);
          const within = (value, min, max) => (min && value < min ? min : max && value > max ? max : value);
          const set = (field, value) => {
            if (field.value === value) return;
            field.value = value;
            field.dispatchEvent(new Event('input', { bubbles: true }));
            field.dispatchEvent(new Event('change', { bubbles: true }));
          };
          const called = f => (f.name || f.id).toLowerCase().replace(/^form\./, '');
          const text = (f, n) => {
            const name = called(f);
            const was = f.value.trim();
            const type = f.type;
            if (type === 'password') return f.autocomplete === 'current-password' ? password : password + ' still';
            if (type === 'email' || /e-?mail/.test(name)) return was || `crawled${nth}n${n}@people.invalid`;
            if (type === 'url' || /url/.test(name)) return `https://listens.example.org/${nth}`;
            if (type === 'tel' || /phone/.test(name)) return `030 5${nth}${n}`;
            if (type === 'time') return was || '10:30';
            if (type === 'datetime-local') return was || `${today}T09:00`;
            if (type === 'date' && !was && f.min >= today) return day(f.min, 2);
            if (type === 'date') return within(was ? day(was, f.max && was >= f.max ? -1 : 1) : within(today, f.min, f.max), f.min, f.max);
            const number = type === 'number' || f.dataset.as === 'number' || /decimal|numeric/.test(f.inputMode);
            if (number) {
              const min = f.min === '' ? null : Number(f.min);
              const max = f.max === '' ? null : Number(f.max);
              const step = Number(f.step) || 1;
              if (was && !Number.isNaN(Number(was))) {
                const next = Number((Number(was) + step).toFixed(6));
                return String(max !== null && next > max ? Number((Number(was) - step).toFixed(6)) : next);
              }
              if (was) return was;
              return min === null ? (max === null ? '4' : String(Math.min(4, max))) : String(min + step > (max ?? Infinity)
                ? min : min + step);
            }
            if (name === 'gauge') return was || `crawled-${nth}`;
            if (f.pattern || f.readOnly) return was;
            if (was && /zone|language|locale|colour|color|template/.test(name)) return was;
            const mark = `crawl ${nth}.${n}`;
            const said = f.tagName === 'TEXTAREA' && was ? `${was}\n${mark}` : f.required
              || !was ? `Words ${mark}` : `${was.replace(/ crawl [\d.]+/g, '')} ${mark}`;
            return f.maxLength > 0 ? (said.length > f.maxLength ? mark.slice(0, f.maxLength) : said) : said;
          };
          let n = 0;
          let ticked = 0;
          const seen = new Set();
          const sizes = { weight: '512', girth: '190', length: '160', condition: '5.5', latitude: '52.5', longitude: '13.4' };
          const special = (f, name) => {
            if (name in sizes) return sizes[name];
            if (/^muscle/.test(name)) return '2.5';
            if (name === 'horsename') return form.querySelector('[name="Form.Horse"]') ? '' : horse;
            // One of two ways to say the same: the choice is made.
            if (/^(pasted|timezone|othermethod|ownername|owneremail|ownerphone|yardname|yardtown|parts\[\d+\])$/.test(name)) return f.value;
            if (name === 'passport') return `DE4${10000 + nth}`;
            if (name === 'code') return '000000';
            if (name === 'microchip') return `2760981000${String(10000 + nth)}`;
            const mark = /^marks\[(\d+)\]\.(name|position|value)/.exec(name);
            if (mark) return f.value || String(Number(mark[1]) + (mark[2] === 'value' ? 20 : 1));
            if (/^(left|right|proposed\w*|setting\w*)$|^parts\[\d+\]\.(setting|left|right|value)$/.test(name)
              && f.type === 'text') return f.value || '5';
            if (location.pathname === '/forgotten') return 'manager@practice.invalid';
            if (name === 'born') return '2014-04-21';
            if (name === 'age') return '';
            if (name === 'height') return form.querySelector('[name="Form.HeightIn"]')?.value === 'm' ? '1.62' : '162';
            // A list is searched for a letter, another horse by its name.
            if (name === 'q') return /\/(merge|give)$/.test(location.pathname) ? horse : 'a';
            return null;
          };
          for (const f of form.elements) {
            if (f.disabled || !f.matches('input,select,textarea') || f.type === 'hidden' || f.type === 'submit') continue;
            const name = called(f);
            n += 1;
            if (f.type === 'file' || /^(heightin|measure|unit)$/.test(name)) continue;
            if (f.type === 'checkbox') {
              // Of a list two are ticked; whoever is told is told.
              if (/^take\b|^of$/.test(name)) {
                ticked += 1;
                if (f.checked !== ticked < 3) f.click();
              } else if (name !== 'tell' && (!f.checked || !f.required)) f.click();
            } else if (f.type === 'radio') {
              if (seen.has(f.name)) continue;
              seen.add(f.name);
              const all = [...form.elements].filter(e => e.type === 'radio' && e.name === f.name && !e.disabled);
              all[(all.findIndex(e => e.checked) + 1) % all.length].click();
            } else if (f.tagName === 'SELECT') {
              const options = [...f.options].filter(o => !o.disabled && o.value !== '');
              if (options.length === 0) continue;
              const now = options.findIndex(o => o.value === f.value);
              set(f, options[(now < 0 ? nth : now + 1) % options.length].value);
            } else set(f, special(f, name) ?? text(f, n));
          }
          return JSON.stringify({
            shown: form.checkVisibility(),
            held: [...form.elements].filter(f => f.willValidate
              && !f.checkValidity()).map(f => `${f.name || f.id}="${f.value}": ${f.validationMessage}`),
            files: [...form.elements].filter(f => f.type === 'file'
              && !f.disabled).map(f => ({ index: [...form.elements].indexOf(f), accept: f.accept, required: f.required })),
          });
        }
        """;

    /// <summary>What stands in a form, field by field.</summary>
    public const string Standing = """
        at => {
          const count = {};
          const out = [];
          for (const f of document.forms[at]?.elements ?? []) {
            if (f.disabled || !f.name || !f.matches('input,select,textarea')
              || ['hidden', 'submit', 'file', 'password'].includes(f.type)) continue;
            if (f.type === 'radio' && !f.checked) continue;
            const nth = (count[f.name] = (count[f.name] ?? -1) + 1);
            const says = f.tagName === 'SELECT' ? (f.selectedOptions[0]?.textContent ?? '').trim() : '';
            out.push({ name: `${f.name}#${nth}`, type: f.tagName === 'INPUT'
              ? f.type : f.tagName.toLowerCase(), value: f.type === 'checkbox' ? String(f.checked) : f.value, says });
          }
          return JSON.stringify(out);
        }
        """;

    /// <summary>What a person reads of a page: its words without choices that are not made, and what stands in its fields.</summary>
    public const string Words = """
        () => {
          const copy = (document.querySelector('main') ?? document.body).cloneNode(true);
          for (const e of copy.querySelectorAll('select,script,style,template')) e.remove();
          return copy.textContent.replace(/\s+/g, ' ');
        }
        """;

    /// <summary>What is said to be wrong.</summary>
    public const string Wrong = """
        () => [...document.querySelectorAll('main .wrong[role=alert], main .wrong[data-told]')]
          .filter(e => e.checkVisibility() && e.textContent.trim() !== '')
          .map(e => e.textContent.trim().replace(/\s+/g, ' '))
        """;

    /// <summary>Whether a press was answered: another page stands there, or the form says what is wrong.</summary>
    public const string Answered = """
        () => (!window.pressed && document.readyState !== 'loading') || document.querySelector('[data-told].wrong') !== null
        """;
}
