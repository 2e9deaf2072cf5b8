using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace FruitWatch.Store.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class ToldRevision : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateTime>(
                name: "RenamedAt",
                table: "Sites",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Renamings",
                table: "Sites",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "Revision",
                table: "DigestNotices",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<DateTime>(
                name: "RenamedAt",
                table: "Beds",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Renamings",
                table: "Beds",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            // Which revision a mail told of follows from the times; an entry's number in a calendar never falls.
            migrationBuilder.Sql(
                """
                UPDATE "DigestNotices" SET "Revision" = (
                    SELECT CASE WHEN notice."RevisedAt" > mail."CreatedAt" THEN notice."Revisions" - 1 ELSE notice."Revisions" END
                    FROM "Notices" AS notice, "Outbox" AS mail WHERE notice."Id" = "DigestNotices"."NoticeId" AND mail."Id" = "DigestNotices"."MailId")
                """);
            migrationBuilder.Sql("""UPDATE "Beds" SET "Renamings" = "Version" - 1""");
            migrationBuilder.Sql("""UPDATE "Sites" SET "Renamings" = "Version" - 1""");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "RenamedAt",
                table: "Sites");

            migrationBuilder.DropColumn(
                name: "Renamings",
                table: "Sites");

            migrationBuilder.DropColumn(
                name: "Revision",
                table: "DigestNotices");

            migrationBuilder.DropColumn(
                name: "RenamedAt",
                table: "Beds");

            migrationBuilder.DropColumn(
                name: "Renamings",
                table: "Beds");
        }
    }
}
