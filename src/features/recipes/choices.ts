import type { FastifyInstance } from 'fastify'
import { processTable } from '../../core/process/index.ts'
import type { Asking } from '../../web/asking.ts'
import { listLocalProcesses } from '../processes/index.ts'
import { listSupplies } from '../supplies/queries.ts'
import type { Choices } from './form-rows.ts'
import type { Names } from './pack-part.ts'
import { listMaterials } from './queries.ts'

/** What the recipe form's lists offer: this co-op's materials, supplies and noted processes, and the tested products. */
export async function readChoices(app: FastifyInstance, asking: Asking): Promise<Choices> {
  const local = await listLocalProcesses(app.prisma, asking)
  return {
    materials: await listMaterials(app.prisma, asking),
    supplies: await listSupplies(app.prisma, asking),
    products: [...new Set(processTable().map(({ product }) => product))].sort((a, b) => a.localeCompare(b, 'en')),
    local: local.filter(({ withdrawn }) => !withdrawn).map(({ id, product }) => ({ value: id, text: product })),
  }
}

/** What a recipe's figures are called by. */
export async function readNames(app: FastifyInstance, asking: Asking): Promise<Names> {
  return {
    materials: new Map((await listMaterials(app.prisma, asking)).map(({ key, name }) => [key, name])),
    supplies: new Map((await listSupplies(app.prisma, asking)).map(({ key, name, unit }) => [key, { name, unit }])),
  }
}
