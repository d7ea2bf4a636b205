// Loaded first in a worker thread (worker-options.ts) so that the thread can import TypeScript. `--import tsx` does not
// do it there: tsx 4.23 starts itself on the main thread only.
import { register } from 'tsx/esm/api'

register()
