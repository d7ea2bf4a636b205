import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { gzipSync } from 'node:zlib'
import plugin from 'fastify-plugin'

/** Addresses of the style sheet, the scripts and the icon; each changes with its content and never expires. */
export type AssetPaths = { styles: string; htmx: string; script: string; passkeys: string; icon: string }

declare module 'fastify' {
  interface FastifyInstance {
    assets: AssetPaths
  }
}

/** Style files in their order: one for each layer, save that the layer `components` is a file for each part. */
const styleSheets = [
  'reset',
  'tokens',
  'base',
  'layout',
  'components/text',
  'components/lists',
  'components/tables',
  'components/buttons',
  'components/forms',
  'components/drawings',
  'components/plans',
  'components/rows',
  'recipes',
  'timetable',
  'shelf',
  'labels',
  'shares',
  'recalls',
  'kitchen',
  'print',
]

/** One file for the browser, in this order. */
const scripts = ['sending', 'table-file']

/** Reads every asset once, at start-up, and serves it from memory, packed where the browser takes it. */
export const assets = plugin(
  async (app) => {
    const styles = styleSheets.map((sheet) => readFileSync(`${folder}css/${sheet}.css`, 'utf8')).join('\n')
    const htmx = readFileSync(createRequire(import.meta.url).resolve('htmx.org/dist/htmx.min.js'))
    const serve = (name: string, type: string, content: string | Buffer): string => {
      const path = `/assets/${name.replace('.', `.${contentHash(content)}.`)}`
      const plain = Buffer.from(content)
      const packed = gzipSync(plain, { level: 9 })
      app.get(path, { config: { open: true, rateLimit: false } }, async (request, reply) => {
        const gzip = /\bgzip\b/.test(request.headers['accept-encoding'] ?? '')
        reply
          .type(type)
          .header('cache-control', 'public, max-age=31536000, immutable')
          .header('vary', 'accept-encoding')
        if (gzip) reply.header('content-encoding', 'gzip')
        return reply.send(gzip ? packed : plain)
      })
      return path
    }
    app.decorate('assets', {
      styles: serve('glutworks.css', 'text/css; charset=utf-8', styles),
      htmx: serve('htmx.js', 'text/javascript; charset=utf-8', htmx),
      script: serve(
        'sending.js',
        'text/javascript; charset=utf-8',
        scripts.map((name) => readFileSync(`${folder}js/${name}.js`, 'utf8')).join('\n'),
      ),
      // for the pages with passkeys alone
      passkeys: serve('passkeys.js', 'text/javascript; charset=utf-8', passkeyScript()),
      icon: serve('icon.svg', 'image/svg+xml', readFileSync(`${folder}img/icon.svg`)),
    })
  },
  { name: 'assets' },
)

/** The style files on disk, for a test that each is served. */
export function styleFiles(): string[] {
  const paths = readdirSync(`${folder}css`, { recursive: true, encoding: 'utf8' })
  return paths.filter((path) => path.endsWith('.css')).map((path) => path.replaceAll('\\', '/'))
}

export { styleSheets }

const folder = fileURLToPath(new URL('../../views/assets/', import.meta.url))

/** The library's own bundle, which its package does not name, and what uses it. */
function passkeyScript(): string {
  const library = createRequire(import.meta.url).resolve('@simplewebauthn/browser')
  const bundle = readFileSync(new URL('../dist/bundle/index.umd.min.js', pathToFileURL(library)), 'utf8')
  return `${bundle}\n${readFileSync(`${folder}js/passkeys.js`, 'utf8')}`
}

function contentHash(content: string | Buffer): string {
  return createHash('sha256').update(content).digest('hex').slice(0, 12)
}
