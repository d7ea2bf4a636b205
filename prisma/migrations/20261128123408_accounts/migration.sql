-- AlterTable
ALTER TABLE "Coop" ADD COLUMN     "demonstration" BOOLEAN NOT NULL DEFAULT false;

-- AlterTable
ALTER TABLE "Member" ADD COLUMN     "leftAt" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "Account" (
    "coopId" TEXT NOT NULL,
    "memberId" TEXT NOT NULL,
    "signInName" TEXT NOT NULL,
    "mail" TEXT,
    "passwordHash" TEXT,
    "passwordChangedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "handle" TEXT NOT NULL,

    CONSTRAINT "Account_pkey" PRIMARY KEY ("coopId","memberId")
);

-- CreateTable
CREATE TABLE "Passkey" (
    "id" TEXT NOT NULL,
    "coopId" TEXT NOT NULL,
    "memberId" TEXT NOT NULL,
    "publicKey" BYTEA NOT NULL,
    "counter" BIGINT NOT NULL,
    "transports" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "lastUsedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Passkey_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Session" (
    "id" TEXT NOT NULL,
    "tokenHash" TEXT NOT NULL,
    "coopId" TEXT NOT NULL,
    "memberId" TEXT,
    "device" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "lastUsedAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Invitation" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "secretHash" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "householdId" TEXT,
    "household" TEXT,
    "role" TEXT,
    "forName" TEXT NOT NULL,
    "memberId" TEXT,
    "madeBy" TEXT NOT NULL,
    "madeAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "usedAt" TIMESTAMPTZ(3),
    "revokedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Invitation_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "Pairing" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "codeHash" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "madeBy" TEXT NOT NULL,
    "madeAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Pairing_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "ApiToken" (
    "coopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "memberId" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "scope" TEXT NOT NULL,
    "secretHash" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "lastUsedAt" TIMESTAMPTZ(3),
    "revokedAt" TIMESTAMPTZ(3),

    CONSTRAINT "ApiToken_pkey" PRIMARY KEY ("coopId","id")
);

-- CreateTable
CREATE TABLE "SetUpCode" (
    "codeHash" TEXT NOT NULL,
    "madeAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3),
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "SetUpCode_pkey" PRIMARY KEY ("codeHash")
);

-- CreateTable
CREATE TABLE "SecurityEvent" (
    "id" TEXT NOT NULL,
    "coopId" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "kind" TEXT NOT NULL,
    "who" TEXT NOT NULL,
    "memberId" TEXT,
    "what" TEXT NOT NULL,

    CONSTRAINT "SecurityEvent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Attempt" (
    "key" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "lastAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Attempt_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "TaskTick" (
    "coopId" TEXT NOT NULL,
    "timetableId" TEXT NOT NULL,
    "task" TEXT NOT NULL,
    "doneAt" TIMESTAMPTZ(3) NOT NULL,
    "by" TEXT NOT NULL,

    CONSTRAINT "TaskTick_pkey" PRIMARY KEY ("coopId","timetableId","task")
);

-- CreateIndex
CREATE UNIQUE INDEX "Account_signInName_key" ON "Account"("signInName");

-- CreateIndex
CREATE UNIQUE INDEX "Account_mail_key" ON "Account"("mail");

-- CreateIndex
CREATE UNIQUE INDEX "Account_handle_key" ON "Account"("handle");

-- CreateIndex
CREATE INDEX "Passkey_coopId_memberId_idx" ON "Passkey"("coopId", "memberId");

-- CreateIndex
CREATE UNIQUE INDEX "Session_tokenHash_key" ON "Session"("tokenHash");

-- CreateIndex
CREATE INDEX "Session_coopId_memberId_idx" ON "Session"("coopId", "memberId");

-- CreateIndex
CREATE INDEX "Session_expiresAt_idx" ON "Session"("expiresAt");

-- CreateIndex
CREATE UNIQUE INDEX "Invitation_secretHash_key" ON "Invitation"("secretHash");

-- CreateIndex
CREATE UNIQUE INDEX "Pairing_codeHash_key" ON "Pairing"("codeHash");

-- CreateIndex
CREATE UNIQUE INDEX "ApiToken_secretHash_key" ON "ApiToken"("secretHash");

-- CreateIndex
CREATE INDEX "SecurityEvent_coopId_at_idx" ON "SecurityEvent"("coopId", "at");

-- CreateIndex
CREATE INDEX "Attempt_lastAt_idx" ON "Attempt"("lastAt");

-- AddForeignKey
ALTER TABLE "Account" ADD CONSTRAINT "Account_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Account" ADD CONSTRAINT "Account_coopId_memberId_fkey" FOREIGN KEY ("coopId", "memberId") REFERENCES "Member"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Passkey" ADD CONSTRAINT "Passkey_coopId_memberId_fkey" FOREIGN KEY ("coopId", "memberId") REFERENCES "Account"("coopId", "memberId") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Session" ADD CONSTRAINT "Session_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Session" ADD CONSTRAINT "Session_coopId_memberId_fkey" FOREIGN KEY ("coopId", "memberId") REFERENCES "Member"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Invitation" ADD CONSTRAINT "Invitation_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Pairing" ADD CONSTRAINT "Pairing_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ApiToken" ADD CONSTRAINT "ApiToken_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ApiToken" ADD CONSTRAINT "ApiToken_coopId_memberId_fkey" FOREIGN KEY ("coopId", "memberId") REFERENCES "Member"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SecurityEvent" ADD CONSTRAINT "SecurityEvent_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TaskTick" ADD CONSTRAINT "TaskTick_coopId_fkey" FOREIGN KEY ("coopId") REFERENCES "Coop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TaskTick" ADD CONSTRAINT "TaskTick_coopId_timetableId_fkey" FOREIGN KEY ("coopId", "timetableId") REFERENCES "Timetable"("coopId", "id") ON DELETE CASCADE ON UPDATE CASCADE;
