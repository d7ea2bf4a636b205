import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { cookiesOf, encodeFields, type TestApp, testApp } from '../../support/app.ts'
import { formFields, htmlOf, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars } from '../shelf/jars.ts'

// The clock stands at Friday, 11 September 2026.
const today = '2026-09-11'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.slowJob.create({
    data: {
      coopId: neighboursId,
      id: 'their-crock',
      kind: 'ferment',
      name: 'their crock',
      startedOn: new Date('2026-09-01T00:00:00Z'),
      stages: { create: { number: 1, says: 'Smell their crock', dueOn: new Date('2026-09-02T00:00:00Z') } },
    },
  })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.slowJob.deleteMany({ where: { coopId: app.coopId } })
})

const begin = (fields: Record<string, string>) => app.postTaken('/slow-jobs', fields, { from: '/slow-jobs/new' })
const stagesOf = async (path: string) => {
  const jobId = path.split('/').at(-1) ?? ''
  const where = { coopId: app.coopId, jobId }
  const stages = await app.prisma.slowStage.findMany({ where, orderBy: { number: 'asc' } })
  return new Map(stages.map((stage) => [stage.number, { ...stage, dueOn: stage.dueOn.toISOString().slice(0, 10) }]))
}
const dues = async (path: string) => [...(await stagesOf(path)).values()].map(({ number, dueOn }) => [number, dueOn])

describe('beginning one', () => {
  test('gives it the stages of its way', async () => {
    const path = await begin({ way: 'sauerkraut', name: 'Big crock', place: 'cellar', startedOn: '2026-09-10' })
    const $ = await app.getPage(path)
    expect(textAt($, 'h1')).toBe('Big crock')
    expect(textAt($, '.lead')).toMatch(/^Sauerkraut, cellar, since Thu,? 10 Sept? 2026\.$/)
    expect(textAt($, '.standing')).toMatch(/^Its pH has not been measured: keep it cold/)
    expect(textsAt($, '.caution').join(' ')).toContain('below 4.6')
    expect(await dues(path)).toEqual([
      [1, '2026-09-10'],
      [2, '2026-09-12'],
      [3, '2026-09-17'],
      [4, '2026-10-01'],
      [5, '2026-10-08'],
      [6, '2027-01-06'],
    ])
  })

  test('goes by how warm it is there, in any unit, and is refused where it is too warm', async () => {
    const cool = await begin({ way: 'dill-pickles', startedOn: today, temperatureC: '60 °F' })
    expect((await stagesOf(cool)).get(14)?.dueOn).toBe('2026-10-16')
    expect(textAt(await app.getPage(cool), 'h1')).toBe('Fermented dill pickles')
    const hot = { way: 'sauerkraut', name: 'Crock', startedOn: today, temperatureC: '30 °C' }
    const $ = await app.postRefused('/slow-jobs', hot, { from: '/slow-jobs/new' })
    expect(problemsIn($)).toEqual(['Too warm: it grows soft and may spoil. Find a cooler place.'])
    const { way, ...others } = hot
    expect(formFields($)).toMatchObject(others)
    // cheerio takes the first option for chosen where the chosen one stands in a group
    expect($('option[selected]').attr('value')).toBe(way)
  })

  test.each([
    [{ way: '' }, 'Choose what it is'],
    [{ way: 'cheese' }, 'Choose what it is'],
    [{ startedOn: '2026-02-30' }, 'Enter a date, like 2026-09-18'],
    [{ startedOn: '0001-01-01' }, 'Enter a date within ten years'],
    [{ startedOn: '9999-12-31' }, 'Enter a date within ten years'],
    [{ temperatureC: '21' }, 'Enter a temperature with its unit, like “21 °C” or “70 °F”'],
  ])('refuses %o at its field and keeps what was typed', async (part: Record<string, string>, words) => {
    const fields = { way: 'vinegar-juice', name: 'Jug', startedOn: today, ...part }
    const $ = await app.postRefused('/slow-jobs', fields, { from: '/slow-jobs/new' })
    expect(problemsIn($)).toEqual([words])
    expect(formFields($)['name']).toBe('Jug')
    expect(await app.prisma.slowJob.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('from a batch takes its name and day, and leads back to it', async () => {
    const { batchId } = await addJars(app, 0)
    const from = `/slow-jobs/new?batch=${batchId}`
    const path = await app.postTaken('/slow-jobs', { way: 'quick-pickles' }, { from })
    const $ = await app.getPage(path)
    expect(textAt($, 'h1')).toBe('Damson jam')
    expect($(`main a[href="/batches/${batchId}"]`).length).toBe(1)
    expect((await stagesOf(path)).get(1)?.dueOn).toBe('2026-10-10')
    expect((await app.app.inject({ url: '/slow-jobs/new?batch=nobodys' })).statusCode).toBe(404)

    expect($('main').text()).not.toContain('recalled')
    await app.prisma.batch.updateMany({ where: { id: batchId }, data: { recalledAt: app.app.clock.now() } })
    for (const page of [path, `${path}/stages/1`]) {
      const words = 'The batch is recalled: leave it where it is, and read the notice.'
      expect(textAt(await app.getPage(page), 'main .lost'), page).toBe(words)
    }
    expect((await app.call('GET', `/api${path}`)).json().batch.recalled).toBe(true)
  })
})

describe('what is due', () => {
  test('stands in the list by how soon, and on the first page with a link', async () => {
    const late = await begin({ way: 'vinegar-scraps', name: 'Peels', startedOn: '2026-09-08' })
    await begin({ way: 'quick-pickles', name: 'Pickles', startedOn: today })
    await begin({ way: 'quick-pickles', name: 'Older pickles', startedOn: '2026-08-19' })
    const $ = await app.getPage('/slow-jobs')
    expect(textAt($, '.lead')).toBe('3 slow jobs go on; 1 needs somebody now.')
    expect(textsAt($, 'main h2')).toEqual(['Due now', 'Soon', 'Going on'])
    expect(textsAt($, 'main tbody a')).toEqual(['Peels', 'Older pickles', 'Pickles'])
    expect(rowsAt($, 'section[aria-labelledby=due-heading] table')[1]?.[2]).toMatch(
      /^3 days late: was due Tue,? 8 Sept?$/,
    )
    expect($('main').text()).not.toContain('their')

    const home = await app.getPage('/')
    const items = textsAt(home, 'section[aria-labelledby=slow-jobs] li')
    expect(items.map((item) => item.slice(0, 5))).toEqual(['Peels', 'Peels'])
    expect(items[1]).toContain('(due today)')
    expect(home('section[aria-labelledby=slow-jobs] li a').attr('href')).toBe(late)
  })

  test('is five on the first page, the longest due first, and says how many there are', async () => {
    for (const day of ['05', '06', '07'])
      await begin({ way: 'brined-vegetables', name: `Jar ${day}`, startedOn: `2026-09-${day}` })
    const home = await app.getPage('/')
    const items = textsAt(home, 'section[aria-labelledby=slow-jobs] li a')
    expect(items).toEqual(['Jar 05', 'Jar 06', 'Jar 07', 'Jar 05', 'Jar 06'])
    expect(textsAt(home, 'section[aria-labelledby=slow-jobs] p')).toEqual(['All 6 that are due'])
  })

  test('is not on the first page while nothing is', async () => {
    await begin({ way: 'quick-pickles', name: 'Pickles', startedOn: today })
    expect((await app.getPage('/'))('section[aria-labelledby=slow-jobs]').length).toBe(0)
  })
})

describe('doing a stage', () => {
  test('notes day, finding and who, and asks for the next', async () => {
    const path = await begin({ way: 'vinegar-juice', name: 'Jug', startedOn: today })
    expect(await app.postTaken(`${path}/stages/1`, { found: '70 °F', note: 'half full' }, { from: path })).toBe(path)
    expect((await stagesOf(path)).get(1)).toMatchObject({ doneBy: 'Rosalind Pike', found: '70 °F', note: 'half full' })
    const $ = await app.getPage(path)
    expect(textAt($, '#next-heading')).toBe('Next: Stir it, and from now on every day.')
    expect(rowsAt($, 'table')[1]?.slice(2)).toEqual([
      '16 °C to 27 °C',
      expect.stringMatching(/^Fri,? 11 Sept? 2026, Rosalind Pike$/),
      'Temperature: 70 °F; half full',
    ])
  })

  test('sent twice counts once', async () => {
    const path = await begin({ way: 'dried-fruit', name: 'Pears', startedOn: '2026-09-07' })
    const shown = await app.app.inject({ url: `${path}/stages/2` })
    const fields = formFields(htmlOf(shown.payload), `form[action="${path}/stages/2"]`)
    const send = () =>
      app.app.inject({
        method: 'POST',
        url: `${path}/stages/2`,
        headers: {
          'content-type': 'application/x-www-form-urlencoded',
          'sec-fetch-site': 'same-origin',
          cookie: cookiesOf(shown),
        },
        payload: encodeFields({ ...fields, doneOn: '2026-09-10' }),
      })
    for (const answer of [await send(), await send()]) {
      expect([answer.statusCode, answer.headers.location]).toEqual([303, path])
    }
    // due on the 8th, done on the 10th: what is counted from it moved by two days, not by four
    expect((await stagesOf(path)).get(4)?.dueOn).toBe('2026-09-17')
    expect(await app.prisma.change.count({ where: { nounId: path.split('/').at(-1) ?? '' } })).toBe(2)
  })

  test('late moves what is counted from it, and nothing that is counted from the start', async () => {
    const path = await begin({ way: 'vinegar-scraps', name: 'Peels', startedOn: '2026-09-01' })
    expect(await dues(path)).toEqual([
      [11, '2026-09-01'],
      [12, '2026-09-04'],
      [13, '2026-09-08'],
      [14, '2026-10-06'],
      [15, '2026-10-07'],
    ])
    await app.postTaken(`${path}/stages/12`, {}, { from: `${path}/stages/12` })
    expect((await dues(path))[3]).toEqual([14, '2026-10-06'])
    await app.postTaken(`${path}/stages/13`, {}, { from: `${path}/stages/13` })
    expect((await dues(path)).slice(2)).toEqual([
      [13, '2026-09-08'],
      [14, '2026-10-09'],
      [15, '2026-10-10'],
    ])
    // a mistake: it is open again, and they move back
    expect(await app.postTaken(`${path}/stages/13/undo`, {}, { from: `${path}/stages/13` })).toBe(`${path}/stages/13`)
    expect((await dues(path)).slice(3)).toEqual([
      [14, '2026-10-06'],
      [15, '2026-10-07'],
    ])
    expect((await stagesOf(path)).get(13)).toMatchObject({ doneOn: null, doneBy: null })
  })

  test('early moves nothing', async () => {
    const path = await begin({ way: 'vinegar-scraps', name: 'Peels', startedOn: '2026-09-08' })
    await app.postTaken(`${path}/stages/13`, {}, { from: `${path}/stages/13` })
    expect((await stagesOf(path)).get(14)?.dueOn).toBe('2026-10-13')
  })

  test('says what a figure means: vinegar below 5 % is not for canning, unmeasured never', async () => {
    const path = await begin({ way: 'vinegar-juice', name: 'Jug', startedOn: '2026-08-14' })
    expect(textAt(await app.getPage(path), '.standing')).toMatch(
      /^Not for canning or pickling: its acidity has not been measured/,
    )
    await app.postTaken(`${path}/stages/5`, { found: '4.6 %' }, { from: `${path}/stages/5` })
    expect(textAt(await app.getPage(path), '.standing')).toMatch(
      /^Not for canning or pickling: it was measured at 4\.6 %/,
    )
    await app.postTaken(`${path}/stages/5/undo`, {}, { from: `${path}/stages/5` })
    await app.postTaken(`${path}/stages/5`, { found: '5.4' }, { from: `${path}/stages/5` })
    expect(textAt(await app.getPage(path), '.standing')).toMatch(/^Measured at 5\.4 %\./)
  })

  test('says at the stage that a pH is not low enough', async () => {
    const path = await begin({ way: 'sauerkraut', name: 'Crock', startedOn: '2026-08-20' })
    await app.postTaken(`${path}/stages/4`, { found: '4.8' }, { from: `${path}/stages/4` })
    expect(textsAt(await app.getPage(path), 'tbody .soon').join(' ')).toContain('Not below 4.6 yet')
    expect((await app.getPage(`${path}/stages/4`))('main').text()).toContain('do not keep it at room temperature')
  })

  test.each([
    ['sauerkraut', 4, { found: '48' }, 'Enter a pH from 0 to 14, like 3.6, or words'],
    ['sauerkraut', 1, { found: '21' }, 'Enter a temperature with its unit, like “21 °C” or “70 °F”, or words'],
    ['sauerkraut', 2, { doneOn: '2026-09-12' }, 'Enter a day that is not in the future'],
    ['sauerkraut', 2, { doneOn: 'yesterday' }, 'Enter a date, like 2026-09-18'],
  ])('of %s, stage %d, is refused for %o', async (way, number, part: Record<string, string>, words) => {
    const path = await begin({ way, name: 'Crock', startedOn: '2026-09-01' })
    const $ = await app.postRefused(
      `${path}/stages/${number}`,
      { note: 'kept', ...part },
      { from: `${path}/stages/${number}` },
    )
    expect(problemsIn($)).toEqual([words])
    expect(formFields($)).toMatchObject({ note: 'kept', ...part })
    expect((await stagesOf(path)).get(number)?.doneOn).toBeNull()
  })

  test('that somebody did meanwhile is a conflict', async () => {
    const path = await begin({ way: 'sauerkraut', name: 'Crock', startedOn: '2026-09-01' })
    const shown = await app.app.inject({ url: `${path}/stages/2` })
    await app.postTaken(`${path}/stages/2`, {}, { from: `${path}/stages/2` })
    expect(shown.statusCode).toBe(200)
    const answer = await app.call('POST', `/api${path}/stages/2/done`, { doneOn: today, found: null, note: null })
    expect(answer.statusCode).toBe(409)
  })
})

describe('one’s own days and stages', () => {
  test('another day for one stage moves no other', async () => {
    const path = await begin({ way: 'dried-fruit', name: 'Pears', startedOn: today })
    await app.postTaken(`${path}/stages/2/date`, { dueOn: '2026-09-14' }, { from: `${path}/stages/2` })
    expect((await dues(path)).slice(1, 3)).toEqual([
      [2, '2026-09-14'],
      [3, '2026-09-12'],
    ])
    const $ = await app.postRefused(`${path}/stages/2/date`, { dueOn: 'soon' }, { from: `${path}/stages/2` })
    expect(problemsIn($)).toEqual(['Enter a date, like 2026-09-18'])
  })

  test('a stage of one’s own stands among the others and is done like them', async () => {
    const path = await begin({ way: 'sauerkraut', name: 'Crock', startedOn: today })
    const own = { says: 'Bring Mara a jar', dueOn: '2026-09-13', measure: 'weight' }
    await app.postTaken(`${path}/stages`, own, { from: path })
    expect(textsAt(await app.getPage(path), 'tbody a')[2]).toBe('Bring Mara a jar')
    await app.postTaken(`${path}/stages/1000`, { found: '1.2 kg' }, { from: `${path}/stages/1000` })
    expect((await stagesOf(path)).get(1000)).toMatchObject({ found: '1.2 kg' })
    const $ = await app.postRefused(`${path}/stages`, { ...own, says: '' }, { from: path })
    expect(problemsIn($)).toEqual(['Enter what to do, in a line'])
  })
})

describe('ending one', () => {
  test('says how, takes it off what is due, keeps its history, and lets nothing change any more', async () => {
    const path = await begin({ way: 'vinegar-juice', name: 'Jug', startedOn: '2026-09-01' })
    await app.postTaken(`${path}/stages/1`, { found: '70 °F' }, { from: path })
    expect(problemsIn(await app.postRefused(`${path}/end`, { ended: '' }))[0]).toMatch(/^Enter how it ended/)
    expect(await app.postTaken(`${path}/end`, { ended: 'mouldy, thrown away' })).toBe(path)
    const $ = await app.getPage(path)
    expect(textAt($, '.lead')).toMatch(/Ended Fri,? 11 Sept? 2026: mouldy, thrown away$/)
    expect(rowsAt($, 'table')[1]?.[4]).toBe('Temperature: 70 °F')
    expect(
      $('main form')
        .map((_, form) => $(form).attr('action'))
        .get(),
    ).toEqual([`${path}/end/undo`])
    const list = await app.getPage('/slow-jobs')
    expect(textAt(list, '.lead')).toBe('Nothing stands and waits.')
    expect(textsAt(list, 'section[aria-labelledby=ended-heading] a')).toEqual(['Jug'])
    expect((await app.getPage('/'))('section[aria-labelledby=slow-jobs]').length).toBe(0)
    const answer = await app.call('POST', `/api${path}/stages/2/done`, { doneOn: today, found: null, note: null })
    expect(answer.statusCode).toBe(409)
  })
})

describe('taking one up again that was ended by mistake', () => {
  /** Begun late enough that something is due, with one stage done, and ended. */
  const ended = async () => {
    const path = await begin({ way: 'vinegar-scraps', name: 'Peels', place: 'shed', startedOn: '2026-09-01' })
    await app.postTaken(`${path}/stages/11`, { note: 'half full' }, { from: path })
    const open = await stagesOf(path)
    await app.postTaken(`${path}/end`, { ended: 'six bottles' })
    return { path, open }
  }

  test('leaves it as it was before, in the list and on the first page, and says so in the history', async () => {
    const { path, open } = await ended()
    expect((await app.getPage('/'))('section[aria-labelledby=slow-jobs]').length).toBe(0)
    expect(textAt(await app.getPage(path), 'section[aria-labelledby=again-heading] .caution')).toMatch(/leave it ended/)
    expect(await app.postTaken(`${path}/end/undo`, {}, { from: path })).toBe(path)
    expect(await stagesOf(path)).toEqual(open)
    const $ = await app.getPage(path)
    expect(textAt($, '.lead')).not.toContain('Ended')
    expect($('#again-heading').length).toBe(0)
    expect($('main').text()).not.toContain('six bottles')
    const history = textsAt(await app.getPage('/audit'), 'main tbody td')
    expect(history).toContain('Peels taken up again. It had ended 2026-09-11: six bottles')
    const list = await app.getPage('/slow-jobs')
    expect(textAt(list, '.lead')).toBe('1 slow job goes on; 1 needs somebody now.')
    expect(list('#ended-heading').length).toBe(0)
    expect(textsAt(await app.getPage('/'), 'section[aria-labelledby=slow-jobs] li a')).toEqual(['Peels', 'Peels'])
    // it goes on: a stage is done late, and what is counted from it moves
    await app.postTaken(`${path}/stages/13`, {}, { from: `${path}/stages/13` })
    expect((await stagesOf(path)).get(14)?.dueOn).toBe('2026-10-09')
    expect(await app.postTaken(`${path}/end`, { ended: 'sour and clear' })).toBe(path)
  })

  test('is for everybody who may end one', async () => {
    const { path } = await ended()
    const { coopId, householdId } = app
    const ada = await app.prisma.member.create({
      data: { coopId, id: 'ada', householdId, name: 'Ada', role: 'helper' },
    })
    await app.signInAs(ada.id)
    expect(await app.postTaken(`${path}/end/undo`, {}, { from: path })).toBe(path)
    await app.signInAs('rosalind')
    const change = await app.prisma.change.findFirstOrThrow({
      orderBy: [{ at: 'desc' }, { id: 'desc' }],
      where: { who: 'Ada' },
    })
    expect(change.what).toBe('Peels taken up again. It had ended 2026-09-11: six bottles')
  })

  test('is refused in words for one that goes on, also where two do it at once, and changes nothing', async () => {
    const { path } = await ended()
    const shown = [await app.app.inject({ url: path }), await app.app.inject({ url: path })]
    const answers = await Promise.all(
      shown.map((page) =>
        app.app.inject({
          method: 'POST',
          url: `${path}/end/undo`,
          headers: {
            'content-type': 'application/x-www-form-urlencoded',
            'sec-fetch-site': 'same-origin',
            cookie: cookiesOf(page),
          },
          payload: encodeFields(formFields(htmlOf(page.payload), `form[action="${path}/end/undo"]`)),
        }),
      ),
    )
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 409])
    const refused = answers.find(({ statusCode }) => statusCode === 409)
    expect(htmlOf(refused?.payload ?? '')('main').text()).toContain(
      'Peels goes on: there is no end of it to take back.',
    )
    const id = path.split('/').at(-1) ?? ''
    // begun, one stage done, ended, taken up again once
    expect(await app.prisma.change.count({ where: { nounId: id } })).toBe(4)
    expect(await app.prisma.slowJob.findFirstOrThrow({ where: { id } })).toMatchObject({ endedOn: null, version: 4 })
  })
})

describe('what another co-op has', () => {
  test.each(['', '/stages/1', '/end'])('is not there%s', async (more) => {
    expect((await app.app.inject({ url: `/slow-jobs/their-crock${more}` })).statusCode).toBe(404)
  })

  test('cannot be changed', async () => {
    const done = { doneOn: today, found: null, note: null }
    const answers = [
      await app.call('POST', '/api/slow-jobs/their-crock/stages/1/done', done),
      await app.call('POST', '/api/slow-jobs/their-crock/end', { endedOn: today, ended: 'gone' }),
      await app.call('POST', '/api/slow-jobs/their-crock/end/undo', {}),
      await app.call('GET', '/api/slow-jobs/their-crock'),
    ]
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([404, 404, 404, 404])
    const theirs = await app.prisma.slowJob.findFirstOrThrow({
      where: { coopId: neighboursId },
      include: { stages: true },
    })
    expect(theirs).toMatchObject({ endedOn: null, version: 1, stages: [{ doneOn: null }] })
  })

  test('is not found for a stage that the job has not', async () => {
    const path = await begin({ way: 'sauerkraut', name: 'Crock', startedOn: today })
    expect((await app.app.inject({ url: `${path}/stages/77` })).statusCode).toBe(404)
  })
})
