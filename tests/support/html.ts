import { type CheerioAPI, load } from 'cheerio'
import { expect } from 'vitest'

/** A page as a tree to ask questions of. */
export type Html = CheerioAPI

export function htmlOf(text: string): Html {
  return load(text)
}

/** The text at a selector with spaces folded; fails when there is not exactly one such element. */
export function textAt($: Html, selector: string): string {
  expect($(selector).length, `elements at ${selector}`).toBe(1)
  return folded($(selector).text())
}

/** The texts at a selector, in order. */
export function textsAt($: Html, selector: string): string[] {
  return $(selector)
    .toArray()
    .map((element) => folded($(element).text()))
}

/** The rows of the table at a selector, head included, as lists of cell texts. */
export function rowsAt($: Html, selector: string): string[][] {
  expect($(selector).length, `tables at ${selector}`).toBe(1)
  return $(selector)
    .find('tr')
    .toArray()
    .map((row) =>
      $(row)
        .find('th, td')
        .toArray()
        .map((cell) => folded($(cell).text())),
    )
}

/** Names and values that a form would send as it stands; ticked boxes only. */
export function formFields($: Html, selector = 'main form'): Record<string, string | string[]> {
  const fields: Record<string, string | string[]> = {}
  for (const { name, value } of $(selector).first().serializeArray()) {
    const before = fields[name]
    fields[name] = before === undefined ? value : [before, value].flat()
  }
  return fields
}

/** The problems shown by a refused form, each checked to lead to a field of the page that says the same. */
export function problemsIn($: Html): string[] {
  expect($('title').text()).toMatch(/^Error: /)
  expect(textAt($, '.refused h2')).toBe('There is a problem')
  return $('.refused a')
    .toArray()
    .map((link) => {
      const target = $(link).attr('href') ?? ''
      expect($(target).length, `target of ${target}`).toBe(1)
      return folded($(link).text())
    })
}

/**
 * What every page owes: one h1, a title, a language, landmarks, labels for fields, names for buttons and links, no
 * inline style or script, no id twice, and no reference to an id that is not there.
 */
export function expectSoundPage(text: string): Html {
  const $ = htmlOf(text)
  expect(text.startsWith('<!doctype html>')).toBe(true)
  expect($('h1').length, 'number of h1').toBe(1)
  expect($('title').text().trim()).not.toBe('')
  expect($('html').attr('lang')).toMatch(/^[a-z]{2}/)
  expect($('main').length).toBe(1)
  // at the door, before anybody is signed in, there is nowhere to go
  if ($('.masthead .who').length > 0) expect($('nav[aria-label]').length).toBeGreaterThan(0)
  expect($('[style]').length, 'inline styles').toBe(0)
  expect($('style, script:not([src])').length, 'inline style or script elements').toBe(0)
  for (const element of $('*').toArray()) {
    const handlers = Object.keys('attribs' in element ? element.attribs : {}).filter((name) => /^on/i.test(name))
    expect(handlers, 'inline handlers').toEqual([])
  }
  const ids = $('[id]')
    .toArray()
    .map((element) => $(element).attr('id') ?? '')
  expect(ids.length, `ids twice: ${ids.filter((id, i) => ids.indexOf(id) !== i)}`).toBe(new Set(ids).size)
  for (const name of ['aria-describedby', 'aria-labelledby', 'for']) {
    for (const element of $(`[${name}]`).toArray()) {
      for (const id of ($(element).attr(name) ?? '').split(/\s+/)) expect(ids, `${name} of ${id}`).toContain(id)
    }
  }
  for (const element of $('input:not([type=hidden]), select, textarea').toArray()) {
    const id = $(element).attr('id') ?? ''
    const named = $(`label[for="${id}"]`).length === 1 || $(element).attr('aria-label') !== undefined
    expect(named, `label of ${$(element).attr('name')}`).toBe(true)
  }
  for (const element of $('a[href], button').toArray()) {
    const name = folded($(element).text()) || $(element).attr('aria-label') || ''
    expect(name, `name of ${$.html(element)}`).not.toBe('')
  }
  return $
}

function folded(text: string): string {
  return text.replace(/\s+/g, ' ').trim()
}
