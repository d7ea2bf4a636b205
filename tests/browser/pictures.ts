import { mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { startService } from '../support/service.ts'
import { ask, desk, enter, openBrowser, phone } from './browser.ts'

// Takes the README's pictures from the running demonstration: npm run pictures
const folder = fileURLToPath(new URL('./pictures/', import.meta.url))
mkdirSync(folder, { recursive: true })

const service = await startService({ LOG_LEVEL: 'warn' })
const asking = await openBrowser({})
const page = await asking.newPage()
await enter(page, service.address)
const { plans } = await ask<{ plans: { id: string }[] }>(page, `${service.address}/api/plans`)
const division = `/plans/${plans[0]?.id}/divisions/1`
const { recipes } = await ask<{
  recipes: { id: string; name: string }[]
}>(page, `${service.address}/api/recipes`)
const filling = recipes.find(({ name }) => name === 'Peach pie filling with flour')?.id
const plums = '/processes?product=plums&jar=quart&method=boiling-water&pack=hot&altitude=1400+m'
const timetable = `/plans/${plans[0]?.id}/timetables/1`
// It goes on being worked out after the service is ready.
for (let tries = 0; ; tries++) {
  const { state } = await ask<{ state: string }>(page, `${service.address}/api${timetable}`)
  if (state === 'done') break
  if (state === 'failed' || tries > 240) throw new Error(`the timetable is ${state}`)
  await new Promise((resolve) => setTimeout(resolve, 1000))
}
const { jars } = await ask<{ jars: { id: string }[] }>(page, `${service.address}/api/shelf/stock`)
await asking.close()
const pictures = [
  { name: 'today-phone', path: '/', viewport: phone },
  { name: 'produce', path: '/lots', viewport: desk },
  { name: 'division', path: division, viewport: { width: 1280, height: 1500 } },
  { name: 'look-up', path: plums, viewport: { width: 1280, height: 1150 } },
  { name: 'verdict-phone', path: `/recipes/${filling}`, viewport: { width: 390, height: 1000 } },
  { name: 'timetable', path: timetable, viewport: { width: 1280, height: 1500 } },
  { name: 'shelf-phone', path: '/shelf', viewport: phone },
  { name: 'jars-phone', path: `/shelf/jars/${jars[0]?.id}`, viewport: phone },
  { name: 'division-dark-phone', path: division, viewport: phone, colorScheme: 'dark' as const },
]
for (const { name, path, ...options } of pictures) {
  const browser = await openBrowser(options)
  const page = await browser.newPage()
  await enter(page, service.address)
  await page.goto(service.address + path)
  await page.screenshot({ path: `${folder}${name}.png` })
  await browser.close()
}
await service.stop()
