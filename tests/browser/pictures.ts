import { mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { startService } from '../support/service.ts'
import { desk, openBrowser, phone } from './browser.ts'

// Takes the README's pictures from the running demonstration: npm run pictures
const folder = fileURLToPath(new URL('./pictures/', import.meta.url))
mkdirSync(folder, { recursive: true })

const service = await startService({ LOG_LEVEL: 'warn' })
const { plans } = (await (await fetch(`${service.address}/api/plans`)).json()) as { plans: { id: string }[] }
const division = `/plans/${plans[0]?.id}/divisions/1`
const { recipes } = (await (await fetch(`${service.address}/api/recipes`)).json()) as {
  recipes: { id: string; name: string }[]
}
const filling = recipes.find(({ name }) => name === 'Peach pie filling with flour')?.id
const plums = '/processes?product=plums&jar=quart&method=boiling-water&pack=hot&altitude=1400+m'
const pictures = [
  { name: 'today-phone', path: '/', viewport: phone },
  { name: 'produce', path: '/lots', viewport: desk },
  { name: 'division', path: division, viewport: { width: 1280, height: 1500 } },
  { name: 'look-up', path: plums, viewport: { width: 1280, height: 1150 } },
  { name: 'verdict-phone', path: `/recipes/${filling}`, viewport: { width: 390, height: 1000 } },
  { name: 'division-dark-phone', path: division, viewport: phone, colorScheme: 'dark' as const },
]
for (const { name, path, ...options } of pictures) {
  const browser = await openBrowser(options)
  const page = await browser.newPage()
  await page.goto(service.address + path)
  await page.screenshot({ path: `${folder}${name}.png` })
  await browser.close()
}
await service.stop()
