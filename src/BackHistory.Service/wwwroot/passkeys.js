// Passkeys: asks the browser for one and posts its answer with the form. Without script, or where no passkey can be, the form stays hidden.
const able = window.PublicKeyCredential?.parseRequestOptionsFromJSON && window.isSecureContext && !/^[\d.]+$|^\[/.test(location.hostname);

/** What the browser's own errors mean here. */
const said = {
  NotAllowedError: 'Nothing was chosen. Try again.',
  InvalidStateError: 'This device holds a passkey of yours already.',
};

async function options(form) {
  const answer = await fetch(form.dataset.options, { method: 'POST', body: new FormData(form), credentials: 'same-origin' });
  if (answer.status === 429) throw new Error('That was too often. Wait a minute, then try again.');
  if (!answer.ok) throw new Error('The service gave no challenge. Load the page again.');
  return answer.json();
}

async function ask(form) {
  const json = await options(form);
  return form.dataset.passkey === 'make'
    ? navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(json) })
    : navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(json) });
}

for (const form of document.querySelectorAll('form[data-passkey]')) {
  const problem = form.querySelector('[data-problem]');
  if (!able) {
    if (form.dataset.passkey !== 'make') continue;
    form.querySelector('button').disabled = true;
    form.querySelector('[data-unable]').hidden = form.hidden = false;
    continue;
  }
  form.hidden = false;
  form.addEventListener('submit', async event => {
    if (form.elements.credential.value) return;
    event.preventDefault();
    problem.hidden = true;
    try {
      form.elements.credential.value = JSON.stringify(await ask(form));
      form.submit();
    } catch (e) {
      problem.textContent = said[e.name] ?? e.message;
      problem.hidden = false;
    }
  });
}
