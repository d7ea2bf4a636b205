import type { CoopWays } from '../../../web/asking.ts'
import { formatFor } from '../../../web/format.ts'
import { roleInWords } from '../../../web/roles.ts'
import type { Message } from '../mail.ts'
import type { Invitation } from './queries.ts'

/** What goes by mail: plain text, with what people typed as it is. */
export function messageFor(invitation: Invitation, link: string, to: string, coop: CoopWays): Message {
  const { kind, forName, madeBy, role, householdName, expiresAt } = invitation
  const until = `It holds once, and until ${formatFor(coop).instant(expiresAt)} (${coop.timeZone}).`
  const lines =
    kind === 'join'
      ? [
          `${madeBy} invites ${forName} to ${coop.name}, as ${role === null ? 'member' : roleInWords(role)} in household ${householdName ?? ''}.`,
          '',
          'Open this address to choose a name and a password:',
          '',
          link,
          '',
          until,
          'If this is not for you, leave it: nothing happens.',
        ]
      : [
          `${madeBy} made a link for ${forName}, to choose a new password for ${coop.name}:`,
          '',
          link,
          '',
          until,
          'Until it is used, the old password stays. If you did not ask for it, tell a steward of your co-op.',
        ]
  const subject = kind === 'join' ? `Invitation to ${coop.name}` : `A new password for ${coop.name}`
  return { to, subject, text: `${lines.join('\n')}\n` }
}
