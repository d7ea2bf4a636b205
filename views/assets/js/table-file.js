// A table can be chosen as a file: it is read into the field, where it can be seen before it is sent.
for (const part of document.querySelectorAll('[data-with-script]')) part.hidden = false

document.addEventListener('change', async (event) => {
  const input = event.target
  if (!(input instanceof HTMLInputElement) || input.dataset.readInto === undefined) return
  const field = document.getElementById(input.dataset.readInto)
  const file = input.files?.[0]
  if (field !== null && file !== undefined) field.value = await file.text()
})
