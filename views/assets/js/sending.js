// A form that is on its way says so, and a second press does nothing. Without script the submission id does the same.
document.addEventListener('submit', (event) => {
  const form = event.target
  if (form.dataset.sending === 'yes') {
    event.preventDefault()
    return
  }
  if (event.defaultPrevented || form.method !== 'post') return
  form.dataset.sending = 'yes'
  const button = event.submitter
  if (button instanceof HTMLButtonElement) button.setAttribute('aria-busy', 'true')
})

// Coming back by the browser's own step back finds the form ready again.
addEventListener('pageshow', () => {
  for (const form of document.querySelectorAll('form[data-sending]')) delete form.dataset.sending
  for (const button of document.querySelectorAll('button[aria-busy]')) button.removeAttribute('aria-busy')
  document.querySelector('.refused')?.focus()
})
