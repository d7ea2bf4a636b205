import type { FastifyReply } from 'fastify'

/** Sends a file to be looked at and printed, or kept under its name (given without ending; letters, digits and hyphens stay). */
export function sendPdf(reply: FastifyReply, pdf: Buffer, name: string): FastifyReply {
  const kept = name.replace(/[^A-Za-z0-9-]/g, '')
  return reply.type('application/pdf').header('content-disposition', `inline; filename="${kept}.pdf"`).send(pdf)
}
