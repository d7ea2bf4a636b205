import { loadDemonstration } from '../../../seed/load.ts'
import { knownSheets } from '../../../src/core/labels/index.ts'
import { beginSession, hashOfSecret, randomSecret } from '../../../src/web/sessions/index.ts'
import { type TestApp, type TestAppOptions, testApp } from '../../support/app.ts'

export type Everything = {
  app: TestApp
  /** A value for the last parameter of an address that ends with it; null where none is known. */
  example(url: string): string | null
}

/** The demonstration with one of everything that can be asked for by an address. */
export async function everything(options: TestAppOptions = {}): Promise<Everything> {
  const app = await testApp({
    coop: false,
    now: '2026-09-18T12:00:00Z',
    environment: { SOLVE_SECONDS: '1' },
    ...options,
  })
  const { prisma } = app
  await loadDemonstration(prisma, app.app.clock.now(), app.app.newId)
  const { coopId, id: steward } = await prisma.member.findFirstOrThrow({ where: { role: 'steward' } })
  await app.signInAs(steward)
  const at = app.app.clock.now()
  const first = async (from: Promise<{ id: string } | null>) => (await from)?.id ?? ''
  const plan = await prisma.plan.findFirstOrThrow()
  await app.postTaken(`/plans/${plan.id}/divisions`, {}, { from: `/plans/${plan.id}` })
  await app.app.divisions.settled()
  await app.postTaken(`/plans/${plan.id}/divisions/1/timetable`, {}, { from: `/plans/${plan.id}/divisions/1` })
  await prisma.calendarLink.create({
    data: { coopId, id: 'a-calendar', secretHash: hashOfSecret(randomSecret()), madeBy: 'Mara', createdAt: at },
  })
  await beginSession(prisma, { id: 'a-screen', token: randomSecret(), coopId, memberId: null, device: 'Annex' }, at)
  const pairing = { coopId, id: 'a-code', name: 'Shed', madeBy: 'Mara', codeHash: hashOfSecret(randomSecret()) }
  await prisma.pairing.create({ data: { ...pairing, madeAt: at, expiresAt: new Date(at.getTime() + 600_000) } })
  const household = await first(prisma.household.findFirst({ where: { coopId } }))
  await prisma.member.create({
    data: { coopId, id: 'a-member', householdId: household, name: 'Somebody', role: 'member' },
  })
  await prisma.invitation.create({
    data: {
      coopId,
      id: 'an-invitation',
      secretHash: hashOfSecret(randomSecret()),
      kind: 'join',
      householdId: household,
      role: 'member',
      forName: 'Somebody else',
      madeBy: 'Mara',
      madeAt: at,
      expiresAt: new Date(at.getTime() + 86_400_000),
    },
  })
  const jars = await prisma.jarBatch.findFirstOrThrow()
  await prisma.recall.create({
    data: { coopId, id: 'a-recall', reason: 'a lid bulged', todo: 'Bring it back.', by: 'Mara', at },
  })
  await prisma.recallBatch.create({ data: { coopId, recallId: 'a-recall', batchId: jars.batchId } })
  await prisma.localProcess.create({
    data: {
      coopId,
      id: 'a-process',
      product: 'plums',
      method: 'boiling-water',
      pack: 'hot',
      jars: ['pint'],
      fromM: 0,
      toM: 300,
      minutes: 20,
      kPa: null,
      headspaceMm: 13,
      acid: 'none',
      source: 'made up for a test',
      notedBy: 'Mara',
      notedOn: new Date('2026-09-01T00:00:00Z'),
    },
  })
  const [common] = knownSheets
  if (common === undefined) throw new Error('no known sheet')
  await prisma.labelSheet.create({ data: { coopId, id: 'a-sheet', name: 'a sheet', geometry: common.geometry } })
  await app.postTaken('/shares', {}, { from: '/shares/new' })

  const { householdId } = await prisma.member.findFirstOrThrow({ where: { coopId, id: steward } })
  const gone = { name: 'Hob Tanner', role: 'helper', leftAt: at }
  await prisma.member.create({ data: { coopId, id: 'a-former-member', householdId, ...gone } })

  const lot = await prisma.lot.findFirstOrThrow({ where: { closedOn: null } })
  const recipe = await first(prisma.recipe.findFirst({ where: { retired: false } }))
  const entry = await first(prisma.shelfEntry.findFirst({ where: { kind: 'take' } }))
  const batch = await prisma.batch.findFirstOrThrow({ where: { id: jars.batchId } })
  const byPlace: Record<string, string> = {
    '/lots/:id': lot.id,
    '/crops/:key': lot.crop,
    '/equipment/:id': await first(prisma.equipment.findFirst()),
    '/helpers/:id': await first(prisma.helper.findFirst()),
    '/calendars/:id': 'a-calendar',
    '/coop/screens/:id': 'a-screen',
    '/coop/screens/codes/:id': 'a-code',
    '/screens/:id': 'a-screen',
    '/account/tokens/:id': 'a-token',
    '/tokens/:id': 'a-token',
    '/account/passkeys/:id': 'a-passkey',
    '/people/:id': 'a-member',
    '/coop/data/former-members/:id': 'a-former-member',
    '/people/households/:id': household,
    '/people/invitations/:id': 'an-invitation',
    '/households/:id': household,
    '/invitations/:id': 'an-invitation',
    '/work-days/:id': await first(prisma.workDay.findFirst()),
    '/plans/:id': plan.id,
    '/outlets/:id': await first(prisma.outlet.findFirst()),
    '/recipes/:id': recipe,
    '/recipes/starters/:key': 'damson-jam',
    '/recipe-starters/:key': 'damson-jam',
    '/local-processes/:id': 'a-process',
    '/supplies/:id': await first(prisma.supply.findFirst()),
    '/shelf/products/:id': batch.recipeId,
    '/shelf/jars/:id': jars.id,
    '/j/:code': batch.code,
    '/shelf/places/:id': await first(prisma.place.findFirst()),
    '/shelf/supplies/:id': await first(prisma.supply.findFirst()),
    '/shelf/entries/:id': entry,
    '/slow-jobs/:id': await first(prisma.slowJob.findFirst()),
    '/batches/:id': batch.id,
    '/recalls/:id': 'a-recall',
    '/trace/lots/:id': lot.id,
    '/trace/batches/:id': batch.id,
    '/shares/:id': await first(prisma.shareOut.findFirst()),
    '/account/devices/:id': 'a-device',
    '/labels/sheets/:id': 'a-sheet',
    '/label-sheets/:id': 'a-sheet',
    ':number': '1',
    ':version': '1',
    ':pack': batch.pack,
  }
  return {
    app,
    example(url) {
      const place = url.replace(/^\/api/, '')
      return byPlace[place] ?? byPlace[url.split('/').at(-1) ?? ''] ?? null
    },
  }
}
