import type { Worker } from 'node:worker_threads'
import type { Patience } from './patience.ts'

type Hearing<Reply, Answer> = {
  /** What the thread is, in words: for the error when it ends without an answer. */
  what: string
  patience: Patience
  /** So long it may say nothing, the grace added; it is ended when it does. */
  silentMs: number
  /** Given each thing the thread says; null: it is still at work. */
  hear(reply: Reply): Answer | null
}

/**
 * The answer of a thread that has one job.
 *
 * @throws ThreadHung where it says nothing for too long; Error where it fails, or ends without an answer
 */
export function oneAnswer<Reply, Answer>(worker: Worker, hearing: Hearing<Reply, Answer>): Promise<Answer> {
  const { what, patience, silentMs, hear } = hearing
  return new Promise<Answer>((resolve, reject) => {
    const wait = () =>
      patience.expectWithin(silentMs, (error) => {
        reject(error)
        void worker.terminate()
      })
    wait()
    worker.on('message', (reply: Reply) => {
      const answer = hear(reply)
      if (answer === null) wait()
      else resolve(answer)
    })
    worker.on('error', reject)
    worker.on('exit', (code) => reject(new Error(`${what} ended with code ${code}`)))
  }).finally(patience.end)
}
