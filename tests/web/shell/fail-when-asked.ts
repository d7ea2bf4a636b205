// Brought into a running service by --import: it fails where nobody takes care of it, once somebody sends SIGUSR2.
process.on('SIGUSR2', () => {
  const failure = process.env['FAILURE'] ?? ''
  const error = new Error(`${failure}, and nobody took care of it`)
  if (failure === 'thrown') throw error
  void Promise.reject(error)
})
