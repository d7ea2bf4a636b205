import type { CoopWays } from '../../web/asking.ts'
import { formModel, radiosField, selectField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { accountPath } from '../accounts/paths.ts'
import { lifetimesInDays, type Scope } from './forms.ts'
import { tokenPath, tokenRemovalPath, tokensPath } from './paths.ts'
import type { Token } from './queries.ts'

const scopeWords: Record<Scope, string> = { read: 'may read', write: 'may read and write' }

export function tokensPage(tokens: readonly Token[], form: TypedForm, { now, coop }: { now: Date; coop: CoopWays }) {
  const format = formatFor(coop)
  return {
    title: 'Tokens for programs',
    place: null,
    action: tokensPath(),
    back: accountPath(),
    rows: tokens.map((token) => ({ href: tokenPath(token.id), ...historyOf(token, now, coop) })),
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'What it is for', hint: '“Thermometer in the shed”' }),
        scope: radiosField(form, {
          name: 'scope',
          label: 'What it may do',
          options: [
            { value: 'read', text: 'Read only' },
            { value: 'write', text: 'Read and write, as far as you may yourself' },
          ],
        }),
        days: selectField(form, {
          name: 'days',
          label: 'How long it holds',
          options: [
            { value: '', text: 'Choose' },
            ...lifetimesInDays.map((days) => ({ value: days, text: format.count(Number(days), 'day') })),
          ],
        }),
      },
      form,
    ),
  }
}

/** @param secret the whole token where it may be shown now, else '' */
export function tokenPage(token: Token, secret: string, { now, coop }: { now: Date; coop: CoopWays }) {
  return {
    title: `Token: ${token.name}`,
    place: null,
    secret,
    ...historyOf(token, now, coop),
    removal: tokenRemovalPath(token.id),
    back: tokensPath(),
  }
}

function historyOf({ name, scope, createdAt, expiresAt, lastUsedAt }: Token, now: Date, coop: CoopWays) {
  const format = formatFor(coop)
  const isOver = expiresAt <= now
  return {
    name,
    may: scopeWords[scope],
    made: format.instant(createdAt),
    used: lastUsedAt === null ? 'never' : format.instant(lastUsedAt),
    until: isOver ? `over since ${format.instant(expiresAt)}` : format.instant(expiresAt),
    isOver,
  }
}
