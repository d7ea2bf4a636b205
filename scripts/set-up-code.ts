// A code for a further co-op: `npm run set-up-code`. See src/features/accounts/commands.ts.
import { setUpCodeCommand } from '../src/features/accounts/commands.ts'

process.exitCode = await setUpCodeCommand(process.argv.slice(2), process.env, console.log)
