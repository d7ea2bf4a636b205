import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { styleFiles, styleSheets } from '../../../src/web/assets.ts'
import { escaped, Markup, markup } from '../../../src/web/markup.ts'
import { compileAll } from '../../../src/web/views.ts'

const root = fileURLToPath(new URL('../../../', import.meta.url))

function filesBelow(folder: string, ending: string): { path: string; text: string }[] {
  return readdirSync(`${root}${folder}`, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith(ending) && !path.startsWith('db/generated'))
    .map((path) => ({ path: `${folder}/${path}`, text: readFileSync(`${root}${folder}/${path}`, 'utf8') }))
}

function usesOf(pattern: RegExp, files: { path: string; text: string }[]): string[] {
  return files.flatMap(({ path, text }) => Array.from(text.matchAll(pattern), ([found]) => `${path}: ${found}`))
}

describe('raw output', () => {
  it('is written by no template itself', () => {
    expect(usesOf(/\{\{\{|\{\{~?&/g, filesBelow('views', '.hbs'))).toEqual([])
  })

  it('comes from the layout’s body and the drawings only', () => {
    const uses = usesOf(/\{\{~?\s*markup [^}]+\}\}|\(markup [^)]+\)/g, filesBelow('views', '.hbs'))
    expect(uses.sort()).toEqual([
      'views/layouts/page.hbs: {{markup body}}',
      'views/partials/beam.hbs: {{markup beam.drawing}}',
      'views/partials/beam.hbs: {{markup swatch}}',
      'views/partials/drawing.hbs: {{markup drawing}}',
      'views/partials/flow.hbs: {{markup flow.drawing}}',
      'views/partials/plot.hbs: {{markup plot.drawing}}',
      'views/partials/plot.hbs: {{markup swatch}}',
      'views/partials/timetable.hbs: {{markup swatch}}',
      'views/partials/timetable.hbs: {{markup timetable.fitted}}',
      'views/partials/timetable.hbs: {{markup timetable.scrolling}}',
    ])
  })

  it('is let through by one helper, and made by rendering alone', () => {
    const files = filesBelow('src', '.ts')
    expect(usesOf(/SafeString\(|noEscape/g, files)).toEqual(['src/web/views.ts: SafeString('])
    expect(usesOf(/Markup\.rendered\(/g, files).sort()).toEqual([
      'src/web/markup.ts: Markup.rendered(',
      'src/web/views.ts: Markup.rendered(',
    ])
  })
})

describe('templates', () => {
  it('have no inline style, script or handler', () => {
    expect(
      usesOf(/\sstyle=|<style|<script(?![^>]*\ssrc=)|\son[a-z]+=|hx-on|javascript:/g, filesBelow('views', '.hbs')),
    ).toEqual([])
  })

  it('all compile', () => {
    expect(compileAll().size).toBeGreaterThan(10)
  })

  it('fail on a field that the page lacks', () => {
    const layout = compileAll().get('errors/error')
    expect(() => layout?.({ title: 'x' }, { data: { csrf: () => '', newId: () => '' } })).toThrow(/message/)
  })
})

describe('styles', () => {
  it('are all served, each within its layer, with no colour or id outside their place', () => {
    expect(styleFiles().sort()).toEqual(styleSheets.map((sheet) => `${sheet}.css`).sort())
    for (const { path, text } of filesBelow('views/assets/css', '.css')) {
      // a layer is named after its file, or after the folder of its parts
      const layer = /css\/(\w+)/.exec(path)?.[1]
      expect(
        [...text.matchAll(/@layer (\w+) \{/g)].map(([, name]) => name),
        path,
      ).toEqual([layer])
      expect(text.match(/!important/g), path).toBeNull()
      expect(text.match(/(^|[\s,>+~])#[a-z][\w-]*\s*[,{]/gm), `id selectors in ${path}`).toBeNull()
      if (!/(tokens|print)\.css$/.test(path))
        expect(text.match(/oklch\(|#[0-9a-f]{3,8}\b|rgb\(/gi), `colours in ${path}`).toBeNull()
    }
  })
})

describe('markup', () => {
  it('escapes what is put in, and keeps markup', () => {
    const inner = markup`<b title="${'"x" <y> \'z\' `'}">${'<i>'}</b>`
    expect(String(inner)).toBe('<b title="&#34;x&#34; &#60;y&#62; &#39;z&#39; &#96;">&#60;i&#62;</b>')
    expect(String(markup`<p>${[inner, '&', 1.23456]}</p>`)).toBe(`<p>${inner}&#38;1.235</p>`)
    expect(escaped('plain')).toBe('plain')
    expect(inner).toBeInstanceOf(Markup)
  })
})
