# Two stages: the first has the tools that write the database client, the second only what runs.
FROM node:24.11-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY . .
RUN node scripts/generate.mjs && npm prune --omit=dev

FROM node:24.11-bookworm-slim
ENV NODE_ENV=production
WORKDIR /app
COPY --from=build /app/node_modules node_modules
COPY --from=build /app/package.json package.json
COPY --from=build /app/src src
COPY --from=build /app/seed seed
COPY --from=build /app/prisma prisma
COPY --from=build /app/scripts scripts
COPY --from=build /app/views views
RUN mkdir /data && chown node:node /data
USER node
VOLUME /data
EXPOSE 8080
CMD ["node", "--import", "tsx", "src/main.ts"]
