import type { Socket } from 'node:net'
import plugin from 'fastify-plugin'

/**
 * Lets go, when the service begins to close, of connections on which no request was read yet. Browsers open some ahead
 * of need, and Node waits for those as if a request were under way, which made a stop take its whole time.
 */
export const unusedConnections = plugin(
  async (app) => {
    const unused = new Set<Socket>()
    app.server.on('connection', (socket) => {
      unused.add(socket)
      socket.once('close', () => unused.delete(socket))
    })
    app.server.on('request', ({ socket }) => unused.delete(socket))
    app.addHook('preClose', async () => {
      for (const socket of unused) socket.destroy()
    })
  },
  { name: 'unused-connections' },
)
