// A link for a new password: `npm run let-in -- SIGN-IN-NAME`. See src/features/accounts/commands.ts.
import { letInCommand } from '../src/features/accounts/commands.ts'

process.exitCode = await letInCommand(process.argv.slice(2), process.env, console.log)
