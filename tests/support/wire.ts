import { connect, createServer, type Server, type Socket } from 'node:net'

/** Stands between the service and its PostgreSQL, so that a test can cut the wire and mend it. */
export type Wire = {
  /** The server's address by way of the wire. */
  url: string
  /** Ends every connection, and takes none until it is mended. */
  cut(): Promise<void>
  mend(): Promise<void>
  close(): Promise<void>
}

/** @param url of the server's database */
export async function startWire(url: string): Promise<Wire> {
  const { hostname, port } = new URL(url)
  const sockets = new Set<Socket>()
  let at = 0
  let server: Server | null = null

  async function mend(): Promise<void> {
    const fresh = createServer((near) => {
      const far = connect(Number(port || 5432), hostname)
      for (const [from, to] of [
        [near, far],
        [far, near],
      ] as const) {
        sockets.add(from)
        from.pipe(to)
        from.on('error', () => to.destroy())
        from.on('close', () => {
          sockets.delete(from)
          to.destroy()
        })
      }
    })
    await new Promise<void>((resolve, reject) => fresh.once('error', reject).listen(at, '127.0.0.1', resolve))
    const address = fresh.address()
    at = typeof address === 'object' && address !== null ? address.port : 0
    server = fresh
  }

  async function cut(): Promise<void> {
    const old = server
    server = null
    const closed = new Promise<void>((resolve) => (old === null ? resolve() : old.close(() => resolve())))
    for (const socket of sockets) socket.destroy()
    await closed
  }

  await mend()
  const by = new URL(url)
  by.hostname = '127.0.0.1'
  by.port = String(at)
  return { url: by.href, cut, mend, close: cut }
}
