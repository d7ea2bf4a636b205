import type { Citation } from '../../core/process/index.ts'
import { type AnyField, formModel } from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import type { Page } from '../../web/views.ts'
import { sourceText } from '../processes/index.ts'
import { handbookPath } from './paths.ts'

/** A column's heading; figures stand at its end. */
export type Head = { text: string; figure: boolean }
export type Row = { name: string; cells: { text: string; figure: boolean }[]; here: boolean; source: string }
/** A table whose rows each have a source, or which has one for all of them (`source`, '' otherwise). */
export type Table = { caption: string; first: string; heads: Head[]; rows: Row[]; sourced: boolean; source: string }
/** A sentence with its source. */
export type Line = { says: string; source: string }
export type Section = {
  id: string
  heading: string
  says: string[]
  tables: Table[]
  lines: Line[]
  caution: string
}
export type Link = { href: string; text: string }
type AskedField = { field: AnyField; select: boolean }
/** A page of the handbook. `ask.action` is '' where there is nothing to ask. */
export type TopicPage = Page & {
  sentence: string
  sections: Section[]
  links: Link[]
  ask: { action: string; button: string; fields: AskedField[] }
  form: { problems: { href: string; text: string }[] }
}

/** What a topic's page is made of; everything but title, sentence and sections may be left out. */
export function topicPage(of: {
  title: string
  sentence: string
  sections: Section[]
  links?: Link[]
  ask?: { action: string; button: string; form: TypedForm; fields: Record<string, AnyField> }
}): TopicPage {
  const { title, sentence, sections, links = [], ask } = of
  const fields = ask?.fields ?? {}
  return {
    title,
    place: 'coop',
    sentence,
    sections,
    links: [...links, { href: handbookPath(), text: 'All of the handbook' }],
    ask: {
      action: ask?.action ?? '',
      button: ask?.button ?? '',
      fields: Object.values(fields).map((field) => ({ field, select: 'options' in field })),
    },
    form: ask === undefined ? { problems: [] } : { problems: formModel(fields, ask.form).problems },
  }
}

export function section(of: Pick<Section, 'id' | 'heading'> & Partial<Section>): Section {
  return { says: [], tables: [], lines: [], caution: '', ...of }
}

/** Headings of columns: those that begin with # hold figures. */
type Heads = readonly [first: string, ...others: string[]]

/** A table in which each row names its source in the last column. */
export function sourcedTable(
  caption: string,
  heads: Heads,
  rows: readonly { name: string; cells: readonly string[]; source: Citation; here?: boolean }[],
): Table {
  return tableOf(
    caption,
    heads,
    rows.map((row) => ({ ...row, source: sourceText(row.source) })),
    '',
  )
}

/** A table all of whose rows come from the same sources, named beneath it. */
export function plainTable(
  caption: string,
  heads: Heads,
  rows: readonly { name: string; cells: readonly string[]; here?: boolean }[],
  sources: readonly Citation[],
): Table {
  return tableOf(
    caption,
    heads,
    rows.map((row) => ({ ...row, source: '' })),
    `Source: ${sourcesText(sources)}`,
  )
}

/** Several sources in one line, each once. */
export function sourcesText(sources: readonly Citation[]): string {
  return [...new Set(sources.map(sourceText))].join('; ')
}

export function line(says: string, ...sources: readonly Citation[]): Line {
  return { says, source: sourcesText(sources) }
}

function tableOf(
  caption: string,
  [first, ...others]: Heads,
  rows: readonly { name: string; cells: readonly string[]; source: string; here?: boolean }[],
  source: string,
): Table {
  const heads = others.map((text) => ({ text: text.replace(/^#/, ''), figure: text.startsWith('#') }))
  return {
    caption,
    first,
    heads,
    rows: rows.map(({ name, cells, here = false, source: known }) => ({
      name,
      cells: cells.map((text, i) => ({ text, figure: heads[i]?.figure ?? false })),
      here,
      source: known,
    })),
    sourced: source === '',
    source,
  }
}
