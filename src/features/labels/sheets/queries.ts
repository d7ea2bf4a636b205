import type { PrinterOffset, SheetGeometry } from '../../../core/labels/index.ts'
import { isUniqueViolation } from '../../../db/errors.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound, refused } from '../../../errors.ts'
import { changedMeanwhile } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'
import { geometryDocument } from './document.ts'

/** A sheet of the co-op's own, and how far its printer's picture is moved on it. */
export type SheetValues = { name: string; geometry: SheetGeometry; offset: PrinterOffset }
export type OwnSheet = SheetValues & { id: string; version: number }

/** The co-op's own sheets by name. */
export async function listSheets(prisma: TransactionClient, asking: Asking): Promise<OwnSheet[]> {
  const rows = await prisma.labelSheet.findMany({ where: { coopId: asking.coopId } })
  return rows.map(fromRow).sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findSheet(prisma: TransactionClient, { coopId }: Asking, id: string): Promise<OwnSheet> {
  const row = await prisma.labelSheet.findUnique({ where: { coopId_id: { coopId, id } } })
  if (row === null) throw notFound('such sheet of labels')
  return fromRow(row)
}

/** Refuses a name that is taken. The geometry was checked. */
export async function addSheet(writing: Writing, values: SheetValues): Promise<OwnSheet> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await refusingTakenName(() =>
    transaction.labelSheet.create({ data: { coopId: asking.coopId, id, ...columnsOf(values) } }),
  )
  await noteChange(writing, 'label-sheets', id, `${values.name} added`)
  return findSheet(transaction, asking, id)
}

/** As `addSheet`; refused too where somebody changed it meanwhile. */
export async function changeSheet(
  writing: Writing,
  id: string,
  version: number,
  values: SheetValues,
): Promise<OwnSheet> {
  const { transaction, asking } = writing
  await findSheet(transaction, asking, id)
  const { count } = await refusingTakenName(() =>
    transaction.labelSheet.updateMany({
      where: { coopId: asking.coopId, id, version },
      data: { ...columnsOf(values), version: { increment: 1 } },
    }),
  )
  if (count === 0) throw changedMeanwhile('this sheet')
  await noteChange(writing, 'label-sheets', id, `${values.name} changed`)
  return findSheet(transaction, asking, id)
}

export async function removeSheet(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { name } = await findSheet(transaction, asking, id)
  await transaction.labelSheet.delete({ where: { coopId_id: { coopId: asking.coopId, id } } })
  await noteChange(writing, 'label-sheets', id, `${name} removed`)
}

async function refusingTakenName<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write()
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const words = 'Another sheet has that name already: choose another'
    throw refused(words, { name: words })
  }
}

function columnsOf({ name, geometry, offset }: SheetValues) {
  return { name, geometry, shiftRight: offset.dx, shiftDown: offset.dy }
}

type Row = { id: string; name: string; geometry: unknown; shiftRight: number; shiftDown: number; version: number }

function fromRow({ id, name, geometry, shiftRight, shiftDown, version }: Row): OwnSheet {
  return { id, name, geometry: geometryDocument.parse(geometry), offset: { dx: shiftRight, dy: shiftDown }, version }
}
