import type { RoomUsed } from '../../db/room.ts'
import type { BackupStatus } from '../../keeping/status.ts'
import type { Settings } from '../../settings.ts'
import type { Asking } from '../../web/asking.ts'
import { formModel, passwordField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { coopPath } from '../coop/paths.ts'
import { coopRemovalPath, dataPath, erasurePath, everythingPath, ownEverythingPath, tablesPath } from './paths.ts'
import type { FormerMember } from './queries.ts'
import { backupWarnings, keptInBackups, roomByKind, roomSentence, roomWarning } from './words.ts'

/** For stewards: backups, room, taking out, former members, deleting. */
export function dataPage(
  { coop }: Asking,
  given: {
    status: BackupStatus | null
    former: FormerMember[]
    used: RoomUsed
    now: Date
    settings: Pick<Settings, 'backups' | 'megabytesPerCoop'>
  },
) {
  const { status, former, used, now, settings } = given
  const limit = settings.megabytesPerCoop
  const format = formatFor(coop)
  const good = status?.good ?? null
  return {
    title: 'Data and backups',
    place: 'coop' as const,
    back: coopPath(),
    warnings: backupWarnings(status, now, coop),
    backup:
      good === null
        ? []
        : [
            { name: 'Last backup', says: format.instant(new Date(good.at)) },
            { name: 'File', says: good.file },
            { name: 'Holds', says: `${format.count(good.rows, 'row')}, ${format.number(good.bytes / 1e6, 1)} MB` },
          ],
    daily:
      settings.backups === null
        ? 'The service makes no backups by itself. Whoever hosts it can have it make one each day.'
        : `The service makes one each day and keeps the newest ${format.number(settings.backups.keep)}.`,
    room: {
      warning: roomWarning(used.bytes, limit),
      says: roomSentence(used, limit, coop),
      kinds: roomByKind(used, coop),
    },
    everything: everythingPath(),
    tables: tablesPath(),
    former: former.map(({ id, name, leftAt }) => ({
      name,
      href: erasurePath(id),
      left: format.instant(leftAt),
    })),
    removal: coop.demonstration ? '' : coopRemovalPath(),
  }
}

/** For everybody: what is known of them. */
export function ownDataPage() {
  return { title: 'Your data', place: null, action: ownEverythingPath(), back: '/account' }
}

/** Asks before the personal data of somebody who left is deleted. */
export function erasurePage({ id, name }: FormerMember, { coop }: Asking, settings: Pick<Settings, 'backups'>) {
  return {
    title: `Delete the personal data of ${name}`,
    place: 'coop' as const,
    name,
    action: erasurePath(id),
    back: dataPath(),
    kept: keptInBackups(settings, coop),
  }
}

/** Why nobody deletes a demonstration from within. */
export const demonstrationStays = 'The demonstration is everybody’s: whoever hosts the service can close it.'

/** Asks before the co-op is deleted. */
export function coopRemovalPage(
  form: TypedForm,
  { coop }: Asking,
  settings: Pick<Settings, 'backups'>,
  asksPassword: boolean,
) {
  return {
    title: `Delete ${coop.name}`,
    place: 'coop' as const,
    action: coopRemovalPath(),
    back: dataPath(),
    kept: keptInBackups(settings, coop),
    asksPassword,
    stays: coop.demonstration ? demonstrationStays : '',
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'Name of the co-op', hint: `Type it as it stands: ${coop.name}` }),
        currentPassword: passwordField(form, {
          name: 'currentPassword',
          label: 'Your own password',
          autocomplete: 'current-password',
        }),
      },
      form,
    ),
  }
}
