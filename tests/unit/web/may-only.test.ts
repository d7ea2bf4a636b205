import { describe, expect, it } from 'vitest'
import type { Asking } from '../../../src/web/asking.ts'
import type { KnownRoute } from '../../../src/web/known-routes.ts'
import { mayOnly } from '../../../src/web/may-only.ts'

const everybody = ['steward', 'planner', 'member', 'helper'] as const
const routes: KnownRoute[] = [
  { method: 'GET', url: '/jars/:id', roles: everybody },
  { method: 'GET', url: '/jars/new', roles: ['steward'] },
  { method: 'GET', url: '/places/:id', roles: ['steward'] },
  { method: 'POST', url: '/jars/:id', roles: ['steward'] },
  { method: 'POST', url: '/notes', roles: everybody },
  { method: 'GET', url: '/door', roles: 'anyone' },
]
const asking = { role: 'member' } as Asking
const shown = (html: string) => mayOnly(html, asking, routes)

describe('a page for one who may not everything', () => {
  it('stays to the byte where nothing is locked', () => {
    const page =
      '<main><p>Jars &amp; <a href="/jars/7?a=1&amp;b=2">lids</a><br></p><form method="post" action="/notes"><input name=a></form><a href="/door">out</a> <a href="https://example.org/">far</a> <a href="#top">up</a></main>'
    expect(shown(page)).toBe(page)
  })

  it('has no form that may not be sent, nor the section around it', () => {
    expect(
      shown('<h1>Jar</h1><section><h2>Take</h2><form method="post" action="/jars/7"><b>x</b></form></section>'),
    ).toBe('<h1>Jar</h1>')
    expect(shown('<section><h2>Take</h2><p>3 left</p><form method="post" action="/jars/7"></form></section>')).toBe(
      '<section><h2>Take</h2><p>3 left</p></section>',
    )
  })

  it('has no link that leads to a locked page, nor the entry or paragraph made for it', () => {
    expect(shown('<ul><li><a href="/jars/new">Add</a></li><li><a href="/jars/7">Seven</a></li></ul>')).toBe(
      '<ul><li><a href="/jars/7">Seven</a></li></ul>',
    )
    expect(shown('<p class="onward"><a href="/jars/new">Add</a></p>')).toBe('')
    expect(shown('<div><a href="/jars/new">Add</a> <a href="/places/1">Change</a></div>')).toBe('')
  })

  it('keeps the words of a link that names a thing or stands in a sentence', () => {
    expect(shown('<td><a href="/places/1">Cellar</a></td>')).toBe('<td>Cellar</td>')
    expect(shown('<p>It stands in <a href="/places/1">the <b>cellar</b></a>.</p>')).toBe(
      '<p>It stands in the <b>cellar</b>.</p>',
    )
  })

  it('takes an address as the router does: what is written out before what any text fits', () => {
    expect(shown('<p>a <a href="/jars/new">n</a> <a href="/jars/old">o</a></p>')).toBe(
      '<p>a n <a href="/jars/old">o</a></p>',
    )
  })

  it('is not fooled by text that looks like markup', () => {
    const page = '<p title="<form method=post action=/jars/7>">&lt;form action="/jars/7"&gt;</p>'
    expect(shown(page)).toBe(page)
  })
})
