import { BlockList, isIP } from 'node:net'
import { z } from 'zod'

/** One thing that the person who hosts it can set in the environment. */
export type SettingNote = { name: string; meaning: string; default: string; example: string }

/** Every setting, once. The README's table is held to this list by a test. */
export const settingNotes: readonly SettingNote[] = [
  note('PORT', 'Port to listen on', '8080', '3000'),
  note('HOST', 'Address to listen on; 0.0.0.0 opens it to the home network', '127.0.0.1', '0.0.0.0'),
  note('DATA_DIR', 'Folder for the embedded database and the secret', './data', '/srv/glutworks'),
  note(
    'DATABASE_URL',
    'A PostgreSQL server to use instead of the embedded database',
    'none',
    'postgresql://kitchen@db/glutworks',
  ),
  note(
    'SECRET',
    'Signs cookies, 32 characters or more',
    'made once, kept in DATA_DIR/secret',
    'the output of openssl rand -hex 32',
  ),
  note('LOG_LEVEL', 'fatal, error, warn, info, debug, trace or silent', 'info', 'warn'),
  note(
    'STEWARD_NETWORKS',
    'Networks whose visitors act as the steward, while there are no accounts',
    '127.0.0.0/8,::1/128',
    '127.0.0.0/8,::1/128,192.168.1.0/24',
  ),
  note(
    'ALLOWED_HOSTS',
    'Names by which the service may be called, without port',
    'localhost,127.0.0.1,[::1]',
    'localhost,kitchen.lan',
  ),
  note('TRUST_PROXY', 'yes: take the visitor’s address from a reverse proxy’s X-Forwarded-For', 'no', 'yes'),
  note('REQUESTS_PER_MINUTE', 'Requests one address may make in a minute; 0 for no limit', '600', '1200'),
  note('SOLVE_SECONDS', 'Time for working out one plan, in seconds', '10', '60'),
  note('SOLVER_THREADS', 'Plans worked out at the same time', '1', '2'),
  note('DEMO', 'yes: load the demonstration kitchen when the database is empty', 'yes', 'no'),
]

export type Settings = {
  port: number
  host: string
  dataDir: string
  databaseUrl: string | null
  /** null: made on first start and kept in the data folder */
  secret: string | null
  logLevel: (typeof logLevels)[number]
  /** Networks whose visitors act as the steward. */
  stewardNetworks: BlockList
  /** Lower case, without port; IPv6 in brackets. */
  allowedHosts: ReadonlySet<string>
  trustProxy: boolean
  /** 0: no limit */
  requestsPerMinute: number
  solveSeconds: number
  solverThreads: number
  demo: boolean
}

/** Names what is wrong with the environment; never repeats a value, which may be a secret. */
export class SettingsError extends Error {
  constructor(problems: string[]) {
    super(`The settings cannot be used:\n${problems.map((problem) => `  ${problem}`).join('\n')}`)
    this.name = 'SettingsError'
  }
}

/**
 * The settings of this process from its environment, defaults filled in; an empty value counts as not set. Throws a
 * SettingsError naming every setting that cannot be used. Variables with other names are not ours and are left alone,
 * save those that begin with GLUTWORKS_, which are taken for a mistake.
 */
export function readSettings(environment: Record<string, string | undefined>): Settings {
  const given = Object.fromEntries(
    settingNotes.flatMap(({ name }) => {
      const value = environment[name]?.trim()
      return value === undefined || value === '' ? [] : [[name, value]]
    }),
  )
  const problems = Object.keys(environment)
    .filter((name) => name.startsWith('GLUTWORKS_') && !name.startsWith('GLUTWORKS_TEST_'))
    .map((name) => `${name}: there is no such setting`)
  const read = shape.safeParse(given)
  for (const issue of read.error?.issues ?? []) problems.push(`${String(issue.path[0])}: ${issue.message}`)
  if (!read.success || problems.length > 0) throw new SettingsError(problems)
  return {
    port: read.data.PORT,
    host: read.data.HOST,
    dataDir: read.data.DATA_DIR,
    databaseUrl: read.data.DATABASE_URL ?? null,
    secret: read.data.SECRET ?? null,
    logLevel: read.data.LOG_LEVEL,
    stewardNetworks: read.data.STEWARD_NETWORKS,
    allowedHosts: read.data.ALLOWED_HOSTS,
    trustProxy: read.data.TRUST_PROXY,
    requestsPerMinute: read.data.REQUESTS_PER_MINUTE,
    solveSeconds: read.data.SOLVE_SECONDS,
    solverThreads: read.data.SOLVER_THREADS,
    demo: read.data.DEMO,
  }
}

function note(name: string, meaning: string, byDefault: string, example: string): SettingNote {
  return { name, meaning, default: byDefault, example }
}

const logLevels = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'] as const

function whole(least: number, most: number) {
  const words = `give a whole number from ${least} to ${most}`
  return z
    .string()
    .regex(/^\d{1,6}$/, words)
    .transform(Number)
    .pipe(z.number().min(least, words).max(most, words))
}

const yesOrNo = z.enum(['yes', 'no'], 'say yes or no').transform((said) => said === 'yes')

const networks = z.string().transform((text, context) => {
  const list = new BlockList()
  for (const part of text.split(',')) {
    const [address = '', bits = ''] = part.trim().split('/')
    const family = isIP(address)
    const most = family === 4 ? 32 : 128
    if (family === 0 || !/^\d{1,3}$/.test(bits) || Number(bits) > most) {
      context.addIssue({ code: 'custom', message: 'list networks such as 192.168.1.0/24, separated by commas' })
      return z.NEVER
    }
    list.addSubnet(address, Number(bits), family === 4 ? 'ipv4' : 'ipv6')
  }
  return list
})

const hosts = z.string().transform((text, context) => {
  const names = text.split(',').map((name) => name.trim().toLowerCase())
  if (!names.every((name) => /^(\[[0-9a-f:.]+\]|[a-z0-9]([a-z0-9.-]*[a-z0-9])?)$/.test(name))) {
    context.addIssue({ code: 'custom', message: 'list host names without port, separated by commas' })
    return z.NEVER
  }
  return new Set(names)
})

const shape = z.object({
  PORT: whole(0, 65535).default(8080),
  HOST: z
    .string()
    .regex(/^[A-Za-z0-9.:-]+$/, 'give an address or a name')
    .default('127.0.0.1'),
  DATA_DIR: z.string().default('./data'),
  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, 'give an address that begins with postgresql://')
    .optional(),
  SECRET: z.string().min(32, 'give 32 characters or more').optional(),
  LOG_LEVEL: z.enum(logLevels, `choose one of ${logLevels.join(', ')}`).default('info'),
  STEWARD_NETWORKS: networks.prefault('127.0.0.0/8,::1/128'),
  ALLOWED_HOSTS: hosts.prefault('localhost,127.0.0.1,[::1]'),
  TRUST_PROXY: yesOrNo.prefault('no'),
  REQUESTS_PER_MINUTE: whole(0, 100_000).default(600),
  SOLVE_SECONDS: whole(1, 600).default(10),
  SOLVER_THREADS: whole(1, 16).default(1),
  DEMO: yesOrNo.prefault('yes'),
})
