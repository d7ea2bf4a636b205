// The browser's own keys to the door. A form with data-passkey is hidden until it is known that the browser can; then it
// asks for a challenge, has the browser answer it, and is sent with the answer like any other form. What says that it
// cannot stands there until then: it is right without script, too.
{
  const { browserSupportsWebAuthn, startAuthentication, startRegistration } = SimpleWebAuthnBrowser
  const able = isSecureContext && browserSupportsWebAuthn()

  const answerTo = async (form) => {
    const asked = await fetch(form.dataset.options, {
      method: 'POST',
      headers: { accept: 'application/json' },
      body: new URLSearchParams(new FormData(form)),
    })
    const options = await asked.json()
    if (!asked.ok) throw new Error(options.error.message)
    const use = form.dataset.passkey === 'add' ? startRegistration : startAuthentication
    return use({ optionsJSON: options })
  }

  for (const unable of document.querySelectorAll('[data-passkey-unable]')) unable.hidden = able
  for (const form of document.querySelectorAll('form[data-passkey]')) {
    const { answer } = form.elements
    const problem = form.querySelector('[data-passkey-problem]')
    answer.value = ''
    form.hidden = !able
    form.addEventListener('submit', async (event) => {
      if (answer.value !== '') return
      event.preventDefault()
      problem.textContent = ''
      const button = form.querySelector('button')
      button.disabled = true
      try {
        answer.value = JSON.stringify(await answerTo(form))
        const password = form.elements.namedItem('password')
        // it has done its part
        if (password !== null) password.value = ''
        form.requestSubmit()
      } catch (error) {
        problem.textContent =
          error.name === 'NotAllowedError' ? 'It was not finished, or taken back. Try again.' : error.message
      } finally {
        button.disabled = false
      }
    })
  }
}
