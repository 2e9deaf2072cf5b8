using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace FruitWatch.Store.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class Reaching : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateOnly>(
                name: "AwayFrom",
                table: "People",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<DateOnly>(
                name: "AwayUntil",
                table: "People",
                type: "date",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "DeputyId",
                table: "People",
                type: "bigint",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Digests",
                table: "People",
                type: "text",
                nullable: false,
                defaultValue: "every-morning");

            migrationBuilder.AddColumn<string>(
                name: "KindsLeftOut",
                table: "People",
                type: "text",
                nullable: false,
                defaultValue: "");

            migrationBuilder.AddColumn<DateTime>(
                name: "MailPausedAt",
                table: "People",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "MailPausedWhy",
                table: "People",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Urgent",
                table: "People",
                type: "text",
                nullable: false,
                defaultValue: "in-waking-hours");

            migrationBuilder.AddColumn<DateTime>(
                name: "ClosedAt",
                table: "Notices",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "Revisions",
                table: "Notices",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<long>(
                name: "LookedAtForecastId",
                table: "Mornings",
                type: "bigint",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "Bounces",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    CooperativeId = table.Column<long>(type: "bigint", nullable: false),
                    PersonId = table.Column<long>(type: "bigint", nullable: false),
                    MailId = table.Column<long>(type: "bigint", nullable: false),
                    At = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    Permanent = table.Column<bool>(type: "boolean", nullable: false),
                    Status = table.Column<string>(type: "text", nullable: false),
                    Detail = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Bounces", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Bounces_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_Bounces_Outbox_MailId",
                        column: x => x.MailId,
                        principalTable: "Outbox",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_Bounces_People_PersonId",
                        column: x => x.PersonId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "CalendarFeeds",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    CooperativeId = table.Column<long>(type: "bigint", nullable: false),
                    PersonId = table.Column<long>(type: "bigint", nullable: false),
                    SiteId = table.Column<long>(type: "bigint", nullable: true),
                    Name = table.Column<string>(type: "text", nullable: false),
                    Hash = table.Column<string>(type: "text", nullable: false),
                    MadeAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    RevokedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    LastUsedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CalendarFeeds", x => x.Id);
                    table.ForeignKey(
                        name: "FK_CalendarFeeds_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_CalendarFeeds_People_PersonId",
                        column: x => x.PersonId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_CalendarFeeds_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id");
                });

            migrationBuilder.CreateTable(
                name: "MailDeeds",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    CooperativeId = table.Column<long>(type: "bigint", nullable: false),
                    PersonId = table.Column<long>(type: "bigint", nullable: false),
                    NoticeId = table.Column<long>(type: "bigint", nullable: false),
                    Nonce = table.Column<string>(type: "text", nullable: false),
                    Deed = table.Column<string>(type: "text", nullable: false),
                    At = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    LogEntryId = table.Column<long>(type: "bigint", nullable: true),
                    Until = table.Column<DateOnly>(type: "date", nullable: true),
                    UndoneAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_MailDeeds", x => x.Id);
                    table.ForeignKey(
                        name: "FK_MailDeeds_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_MailDeeds_LogEntries_LogEntryId",
                        column: x => x.LogEntryId,
                        principalTable: "LogEntries",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.SetNull);
                    table.ForeignKey(
                        name: "FK_MailDeeds_Notices_NoticeId",
                        column: x => x.NoticeId,
                        principalTable: "Notices",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_MailDeeds_People_PersonId",
                        column: x => x.PersonId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_People_DeputyId",
                table: "People",
                column: "DeputyId");

            migrationBuilder.CreateIndex(
                name: "IX_Mornings_LookedAtForecastId",
                table: "Mornings",
                column: "LookedAtForecastId");

            migrationBuilder.CreateIndex(
                name: "IX_Bounces_CooperativeId",
                table: "Bounces",
                column: "CooperativeId");

            migrationBuilder.CreateIndex(
                name: "IX_Bounces_MailId",
                table: "Bounces",
                column: "MailId",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Bounces_PersonId_At",
                table: "Bounces",
                columns: new[] { "PersonId", "At" });

            migrationBuilder.CreateIndex(
                name: "IX_CalendarFeeds_CooperativeId",
                table: "CalendarFeeds",
                column: "CooperativeId");

            migrationBuilder.CreateIndex(
                name: "IX_CalendarFeeds_Hash",
                table: "CalendarFeeds",
                column: "Hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_CalendarFeeds_PersonId",
                table: "CalendarFeeds",
                column: "PersonId");

            migrationBuilder.CreateIndex(
                name: "IX_CalendarFeeds_SiteId",
                table: "CalendarFeeds",
                column: "SiteId");

            migrationBuilder.CreateIndex(
                name: "IX_MailDeeds_CooperativeId",
                table: "MailDeeds",
                column: "CooperativeId");

            migrationBuilder.CreateIndex(
                name: "IX_MailDeeds_LogEntryId",
                table: "MailDeeds",
                column: "LogEntryId");

            migrationBuilder.CreateIndex(
                name: "IX_MailDeeds_Nonce",
                table: "MailDeeds",
                column: "Nonce",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_MailDeeds_NoticeId",
                table: "MailDeeds",
                column: "NoticeId");

            migrationBuilder.CreateIndex(
                name: "IX_MailDeeds_PersonId",
                table: "MailDeeds",
                column: "PersonId");

            migrationBuilder.AddForeignKey(
                name: "FK_Mornings_Forecasts_LookedAtForecastId",
                table: "Mornings",
                column: "LookedAtForecastId",
                principalTable: "Forecasts",
                principalColumn: "Id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "FK_People_People_DeputyId",
                table: "People",
                column: "DeputyId",
                principalTable: "People",
                principalColumn: "Id",
                onDelete: ReferentialAction.SetNull);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "FK_Mornings_Forecasts_LookedAtForecastId",
                table: "Mornings");

            migrationBuilder.DropForeignKey(
                name: "FK_People_People_DeputyId",
                table: "People");

            migrationBuilder.DropTable(
                name: "Bounces");

            migrationBuilder.DropTable(
                name: "CalendarFeeds");

            migrationBuilder.DropTable(
                name: "MailDeeds");

            migrationBuilder.DropIndex(
                name: "IX_People_DeputyId",
                table: "People");

            migrationBuilder.DropIndex(
                name: "IX_Mornings_LookedAtForecastId",
                table: "Mornings");

            migrationBuilder.DropColumn(
                name: "AwayFrom",
                table: "People");

            migrationBuilder.DropColumn(
                name: "AwayUntil",
                table: "People");

            migrationBuilder.DropColumn(
                name: "DeputyId",
                table: "People");

            migrationBuilder.DropColumn(
                name: "Digests",
                table: "People");

            migrationBuilder.DropColumn(
                name: "KindsLeftOut",
                table: "People");

            migrationBuilder.DropColumn(
                name: "MailPausedAt",
                table: "People");

            migrationBuilder.DropColumn(
                name: "MailPausedWhy",
                table: "People");

            migrationBuilder.DropColumn(
                name: "Urgent",
                table: "People");

            migrationBuilder.DropColumn(
                name: "ClosedAt",
                table: "Notices");

            migrationBuilder.DropColumn(
                name: "Revisions",
                table: "Notices");

            migrationBuilder.DropColumn(
                name: "LookedAtForecastId",
                table: "Mornings");
        }
    }
}
