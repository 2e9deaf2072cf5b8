using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace FruitWatch.Store.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class FeedsAsked : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "FailuresInARow",
                table: "Feeds");

            migrationBuilder.DropColumn(
                name: "LastGoodAt",
                table: "Feeds");

            migrationBuilder.DropColumn(
                name: "LastTriedAt",
                table: "Feeds");

            migrationBuilder.DropColumn(
                name: "LastProblem",
                table: "Feeds");

            migrationBuilder.AddColumn<string>(
                name: "SealedKey",
                table: "Feeds",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "Station",
                table: "Sites",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "StationFeedId",
                table: "Sites",
                type: "bigint",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "Coordinator",
                table: "People",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.CreateTable(
                name: "Backfills",
                columns: table => new
                {
                    SiteId = table.Column<long>(type: "bigint", nullable: false),
                    FeedId = table.Column<long>(type: "bigint", nullable: false),
                    First = table.Column<DateOnly>(type: "date", nullable: false),
                    Last = table.Column<DateOnly>(type: "date", nullable: false),
                    Next = table.Column<DateOnly>(type: "date", nullable: false),
                    DaysKept = table.Column<int>(type: "integer", nullable: false),
                    Requests = table.Column<int>(type: "integer", nullable: false),
                    State = table.Column<string>(type: "text", nullable: false),
                    Problem = table.Column<string>(type: "text", nullable: true),
                    FailuresInARow = table.Column<int>(type: "integer", nullable: false),
                    NextTryAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    LeaseUntil = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    StartedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    ProgressAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Backfills", x => new { x.SiteId, x.FeedId });
                    table.ForeignKey(
                        name: "FK_Backfills_Feeds_FeedId",
                        column: x => x.FeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_Backfills_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "FeedAnswers",
                columns: table => new
                {
                    Id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    FeedId = table.Column<long>(type: "bigint", nullable: false),
                    Place = table.Column<string>(type: "text", nullable: false),
                    Asked = table.Column<string>(type: "text", nullable: false),
                    MediaType = table.Column<string>(type: "text", nullable: false),
                    Body = table.Column<byte[]>(type: "bytea", nullable: true),
                    Length = table.Column<int>(type: "integer", nullable: false),
                    FetchedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    CheckedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    Expires = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    Etag = table.Column<string>(type: "text", nullable: true),
                    LastModified = table.Column<string>(type: "text", nullable: true),
                    Notes = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_FeedAnswers", x => x.Id);
                    table.ForeignKey(
                        name: "FK_FeedAnswers_Feeds_FeedId",
                        column: x => x.FeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "FeedDrafts",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    CooperativeId = table.Column<long>(type: "bigint", nullable: false),
                    FeedId = table.Column<long>(type: "bigint", nullable: true),
                    SiteId = table.Column<long>(type: "bigint", nullable: false),
                    Station = table.Column<string>(type: "text", nullable: true),
                    Title = table.Column<string>(type: "text", nullable: false),
                    Description = table.Column<string>(type: "text", nullable: false),
                    SealedKey = table.Column<string>(type: "text", nullable: true),
                    Asked = table.Column<string>(type: "text", nullable: true),
                    MediaType = table.Column<string>(type: "text", nullable: true),
                    Body = table.Column<byte[]>(type: "bytea", nullable: true),
                    FetchedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    Good = table.Column<bool>(type: "boolean", nullable: false),
                    MadeAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_FeedDrafts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_FeedDrafts_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_FeedDrafts_Feeds_FeedId",
                        column: x => x.FeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id");
                    table.ForeignKey(
                        name: "FK_FeedDrafts_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "FeedHosts",
                columns: table => new
                {
                    Authority = table.Column<string>(type: "text", nullable: false),
                    PausedUntil = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    RefusalsInARow = table.Column<int>(type: "integer", nullable: false),
                    FailuresInARow = table.Column<int>(type: "integer", nullable: false),
                    RestsUntil = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    ChangedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_FeedHosts", x => x.Authority);
                });

            migrationBuilder.CreateTable(
                name: "SiteFeeds",
                columns: table => new
                {
                    SiteId = table.Column<long>(type: "bigint", nullable: false),
                    FeedId = table.Column<long>(type: "bigint", nullable: false),
                    LastGoodAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    LastTriedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    FirstTriedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    NextTryAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    ProblemCode = table.Column<string>(type: "text", nullable: true),
                    Problem = table.Column<string>(type: "text", nullable: true),
                    Evidence = table.Column<string>(type: "text", nullable: true),
                    Waiting = table.Column<bool>(type: "boolean", nullable: false),
                    FailuresInARow = table.Column<int>(type: "integer", nullable: false),
                    LastDay = table.Column<DateOnly>(type: "date", nullable: true),
                    Notes = table.Column<string>(type: "text", nullable: true),
                    Question = table.Column<string>(type: "text", nullable: true),
                    UnitsConfirmed = table.Column<int>(type: "integer", nullable: true),
                    Captures = table.Column<string>(type: "text", nullable: true),
                    SilenceToldAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_SiteFeeds", x => new { x.SiteId, x.FeedId });
                    table.ForeignKey(
                        name: "FK_SiteFeeds_Feeds_FeedId",
                        column: x => x.FeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_SiteFeeds_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Sites_StationFeedId",
                table: "Sites",
                column: "StationFeedId");

            migrationBuilder.CreateIndex(
                name: "IX_Backfills_FeedId",
                table: "Backfills",
                column: "FeedId");

            migrationBuilder.CreateIndex(
                name: "IX_Backfills_State_NextTryAt",
                table: "Backfills",
                columns: new[] { "State", "NextTryAt" });

            migrationBuilder.CreateIndex(
                name: "IX_FeedAnswers_FeedId_Place",
                table: "FeedAnswers",
                columns: new[] { "FeedId", "Place" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_FeedDrafts_CooperativeId",
                table: "FeedDrafts",
                column: "CooperativeId");

            migrationBuilder.CreateIndex(
                name: "IX_FeedDrafts_FeedId",
                table: "FeedDrafts",
                column: "FeedId");

            migrationBuilder.CreateIndex(
                name: "IX_FeedDrafts_MadeAt",
                table: "FeedDrafts",
                column: "MadeAt");

            migrationBuilder.CreateIndex(
                name: "IX_FeedDrafts_SiteId",
                table: "FeedDrafts",
                column: "SiteId");

            migrationBuilder.CreateIndex(
                name: "IX_SiteFeeds_FeedId",
                table: "SiteFeeds",
                column: "FeedId");

            migrationBuilder.CreateIndex(
                name: "IX_SiteFeeds_NextTryAt",
                table: "SiteFeeds",
                column: "NextTryAt");

            migrationBuilder.AddForeignKey(
                name: "FK_Sites_Feeds_StationFeedId",
                table: "Sites",
                column: "StationFeedId",
                principalTable: "Feeds",
                principalColumn: "Id",
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "FK_Sites_Feeds_StationFeedId",
                table: "Sites");

            migrationBuilder.DropTable(
                name: "Backfills");

            migrationBuilder.DropTable(
                name: "FeedAnswers");

            migrationBuilder.DropTable(
                name: "FeedDrafts");

            migrationBuilder.DropTable(
                name: "FeedHosts");

            migrationBuilder.DropTable(
                name: "SiteFeeds");

            migrationBuilder.DropIndex(
                name: "IX_Sites_StationFeedId",
                table: "Sites");

            migrationBuilder.DropColumn(
                name: "Station",
                table: "Sites");

            migrationBuilder.DropColumn(
                name: "StationFeedId",
                table: "Sites");

            migrationBuilder.DropColumn(
                name: "Coordinator",
                table: "People");

            migrationBuilder.DropColumn(
                name: "SealedKey",
                table: "Feeds");

            migrationBuilder.AddColumn<string>(
                name: "LastProblem",
                table: "Feeds",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "FailuresInARow",
                table: "Feeds",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<DateTime>(
                name: "LastGoodAt",
                table: "Feeds",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<DateTime>(
                name: "LastTriedAt",
                table: "Feeds",
                type: "timestamp with time zone",
                nullable: true);
        }
    }
}
