import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { FastifyReply } from 'fastify'
import plugin from 'fastify-plugin'
import Handlebars from 'handlebars'
import type { Asking } from './asking.ts'
import { sessionOf } from './csrf.ts'
import { formatFor } from './format.ts'
import { Markup } from './markup.ts'
import { mayOnly } from './may-only.ts'
import { homeOf, type Place, placesOf } from './places.ts'

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

/** What surrounds a page: who reads it, and what its forms need. */
export type PageSetting = { asking: Asking | null; path: string } & Reach

declare module 'fastify' {
  interface FastifyReply {
    /**
     * Renders `views/<template>.hbs` inside the layout, whole and in memory, and sends it. A field that a template
     * names and the page lacks is an error, not a blank.
     */
    page<P extends Page>(template: string, page: P, options?: { status?: number }): FastifyReply
  }
  interface FastifyInstance {
    /** The same as text, for any setting. */
    renderPage<P extends Page>(template: string, page: P, setting: PageSetting): string
  }
}

type Template = Handlebars.TemplateDelegate
/** What helpers and partials can reach beside the page itself, through options.data. */
type Reach = { csrf: () => string; newId: () => string }

/** Compiles every template at start-up and puts `reply.page` on each answer. */
export const views = plugin<{ folders: readonly string[] }>(
  async (app, { folders }) => {
    const templates = compileAll(folders)
    const templateNamed = (name: string): Template => {
      const template = templates.get(name)
      if (template === undefined) throw new Error(`there is no template ${name}`)
      return template
    }

    app.decorate('renderPage', (name: string, page: Page, { asking, path, ...reach }: PageSetting): string => {
      const coop = asking?.coop ?? null
      const refused = page.form !== undefined && page.form.problems.length > 0
      const title = `${refused ? 'Error: ' : ''}${page.title}`
      return templateNamed('layouts/page')(
        {
          documentTitle: [title, ...(coop === null ? [] : [coop.name]), 'Glutworks'].join(' · '),
          language: coop?.locale ?? 'en',
          coopName: coop?.name ?? 'Glutworks',
          home: homeOf(asking),
          who: asking === null ? null : { name: asking.name, isPerson: asking.role !== 'screen' },
          demonstration: coop?.demonstration ?? false,
          places: placesOf(page.place, asking),
          changed: page.changed,
          printed: coop === null ? '' : `${path}, ${formatFor(coop).instant(app.clock.now())}`,
          assets: app.assets,
          body: Markup.rendered(templateNamed(name)(page, { data: reach })),
        },
        { data: reach },
      )
    })

    app.decorateReply('page', function sendPage(this: FastifyReply, name, page, options = {}) {
      // one token for all forms of the page: each call would make a new secret while the visitor has no cookie yet
      let token: string | undefined
      const csrf = () => {
        token ??= this.generateCsrf({ userInfo: sessionOf(this.request) })
        return token
      }
      const asking = this.request.askingOrNobody
      const html = app.renderPage(name, page, {
        asking,
        path: this.request.url.split('?')[0] ?? '',
        csrf,
        newId: app.newId,
      })
      return this.status(options.status ?? 200)
        .type('text/html; charset=utf-8')
        .header('vary', 'HX-Request')
        .send(asking === null || asking.role === 'steward' ? html : mayOnly(html, asking, app.knownRoutes))
    })
  },
  { name: 'views', dependencies: ['assets', 'csrf', 'dependencies', 'known-routes'] },
)

/** Every template by its path below its folder, without ending; throws on the first that cannot be compiled. */
export function compileAll(folders: readonly string[] = [viewsFolder]): Map<string, Template> {
  const handlebars = Handlebars.create()
  handlebars.registerHelper(helpers)
  const options = {
    strict: true,
    // a partial that stands alone on an indented line would have each of its lines indented, those of a text typed too
    preventIndent: true,
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
