import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { FastifyReply } from 'fastify'
import plugin from 'fastify-plugin'
import Handlebars from 'handlebars'
import { formatFor } from './format.ts'
import { Markup } from './markup.ts'
import { type Place, placesOf } from './places.ts'

/**
 * What every page's type has. Pages are plain data, made by pure functions in a feature's pages.ts; anything that is
 * to be read (a weight, a date) is already text.
 */
export type Page = {
  /** The heading's words too; "Error: " is put before it in the window's title when the form was refused. */
  title: string
  /** null: belongs to none (a failure) */
  place: Place | null
  /** The foot line: what was changed last, by whom. */
  changed?: string
  /** The page's form, see forms.ts. */
  form?: { problems: readonly unknown[] }
}

declare module 'fastify' {
  interface FastifyReply {
    /**
     * Renders `views/<template>.hbs` inside the layout, whole and in memory, and sends it. A field that a template
     * names and the page lacks is an error, not a blank.
     */
    page<P extends Page>(template: string, page: P, options?: { status?: number }): FastifyReply
  }
}

type Template = Handlebars.TemplateDelegate
/** What helpers and partials can reach beside the page itself, as `@name` or through options.data. */
type Reach = { csrf: () => string; newId: () => string }

/** Compiles every template at start-up and puts `reply.page` on each answer. */
export const views = plugin<{ folders: readonly string[] }>(
  async (app, { folders }) => {
    const templates = compileAll(folders)
    app.decorateReply(
      'page',
      function sendPage(this: FastifyReply, name: string, page: Page, options: { status?: number } = {}) {
        const template = templates.get(name)
        const layout = templates.get('layouts/page')
        if (template === undefined || layout === undefined) throw new Error(`there is no template ${name}`)
        const coop = this.request.askingOrNobody?.coop
        const reach: Reach = { csrf: () => this.generateCsrf(), newId: app.newId }
        const refused = page.form !== undefined && page.form.problems.length > 0
        const html = layout(
          {
            documentTitle: [`${refused ? 'Error: ' : ''}${page.title}`, ...(coop ? [coop.name] : []), 'Glutworks'].join(
              ' · ',
            ),
            language: coop?.locale ?? 'en',
            coopName: coop?.name ?? 'Glutworks',
            places: placesOf(page.place),
            changed: page.changed,
            printed: coop ? `${this.request.url.split('?')[0]}, ${formatFor(coop).instant(app.clock.now())}` : '',
            assets: app.assets,
            body: Markup.rendered(template(page, { data: reach })),
          },
          { data: reach },
        )
        return this.status(options.status ?? 200)
          .type('text/html; charset=utf-8')
          .header('vary', 'HX-Request')
          .send(html)
      },
    )
  },
  { name: 'views', dependencies: ['assets', 'csrf', 'dependencies'] },
)

/** Every template by its path below its folder, without ending; throws on the first that cannot be compiled. */
export function compileAll(folders: readonly string[] = [viewsFolder]): Map<string, Template> {
  const handlebars = Handlebars.create()
  handlebars.registerHelper(helpers)
  const options = {
    strict: true,
    knownHelpersOnly: true,
    knownHelpers: Object.fromEntries(Object.keys(helpers).map((name) => [name, true])),
  }
  const templates = new Map<string, Template>()
  const paths = folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((path) => ({ folder, path })),
  )
  for (const { folder, path } of paths) {
    if (!path.endsWith('.hbs')) continue
    const source = readFileSync(`${folder}/${path}`, 'utf8')
    const name = path.replaceAll('\\', '/').slice(0, -'.hbs'.length)
    handlebars.precompile(source, options) // compile() alone would put off finding mistakes until the first visitor
    const template = handlebars.compile(source, options)
    templates.set(name, template)
    if (name.startsWith('partials/')) handlebars.registerPartial(name.slice('partials/'.length), template)
  }
  return templates
}

/** Where the service's own templates are. */
export const viewsFolder = fileURLToPath(new URL('../../views', import.meta.url))

type HelperOptions = { data: Reach }

const helpers = {
  /** Writes out Markup as it is, and nothing else: the only raw output there is. */
  markup(value: unknown) {
    if (!(value instanceof Markup)) throw new TypeError('the helper markup takes Markup only')
    return new Handlebars.SafeString(value.text)
  },
  /** The anti-forgery token of this visitor. */
  'csrf-token': (options: HelperOptions) => options.data.csrf(),
  /** A submission id for one form. */
  'new-id': (options: HelperOptions) => options.data.newId(),
  /** `{{#if (is a b)}}` */
  is: (a: unknown, b: unknown) => a === b,
}
