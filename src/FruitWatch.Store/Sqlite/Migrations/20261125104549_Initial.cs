using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace FruitWatch.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class Initial : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "Cooperatives",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Name = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Cooperatives", x => x.Id);
                });

            migrationBuilder.CreateTable(
                name: "Settings",
                columns: table => new
                {
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Value = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Settings", x => x.Key);
                });

            migrationBuilder.CreateTable(
                name: "Feeds",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    CooperativeId = table.Column<long>(type: "INTEGER", nullable: false),
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    Title = table.Column<string>(type: "TEXT", nullable: false),
                    Description = table.Column<string>(type: "TEXT", nullable: false),
                    LastGoodAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    LastTriedAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    LastProblem = table.Column<string>(type: "TEXT", nullable: true),
                    FailuresInARow = table.Column<int>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Feeds", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Feeds_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "People",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    CooperativeId = table.Column<long>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Email = table.Column<string>(type: "TEXT", nullable: false),
                    EmailNormalized = table.Column<string>(type: "TEXT", nullable: false),
                    Language = table.Column<string>(type: "TEXT", nullable: false),
                    Active = table.Column<bool>(type: "INTEGER", nullable: false),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_People", x => x.Id);
                    table.ForeignKey(
                        name: "FK_People_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Sites",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    CooperativeId = table.Column<long>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    Latitude = table.Column<double>(type: "REAL", nullable: false),
                    Longitude = table.Column<double>(type: "REAL", nullable: false),
                    Elevation = table.Column<double>(type: "REAL", nullable: false),
                    ZoneId = table.Column<string>(type: "TEXT", nullable: false),
                    Coastal = table.Column<bool>(type: "INTEGER", nullable: false),
                    MorningAt = table.Column<TimeOnly>(type: "TEXT", nullable: false),
                    ForecastFeedId = table.Column<long>(type: "INTEGER", nullable: true),
                    HistoryFeedId = table.Column<long>(type: "INTEGER", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Sites", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Sites_Cooperatives_CooperativeId",
                        column: x => x.CooperativeId,
                        principalTable: "Cooperatives",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Sites_Feeds_ForecastFeedId",
                        column: x => x.ForecastFeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Sites_Feeds_HistoryFeedId",
                        column: x => x.HistoryFeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Outbox",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Key = table.Column<string>(type: "TEXT", nullable: false),
                    PersonId = table.Column<long>(type: "INTEGER", nullable: true),
                    ToName = table.Column<string>(type: "TEXT", nullable: false),
                    ToAddress = table.Column<string>(type: "TEXT", nullable: false),
                    Subject = table.Column<string>(type: "TEXT", nullable: false),
                    TextBody = table.Column<string>(type: "TEXT", nullable: false),
                    HtmlBody = table.Column<string>(type: "TEXT", nullable: false),
                    MessageId = table.Column<string>(type: "TEXT", nullable: false),
                    Headers = table.Column<string>(type: "TEXT", nullable: true),
                    State = table.Column<string>(type: "TEXT", nullable: false),
                    Attempts = table.Column<int>(type: "INTEGER", nullable: false),
                    NextTryAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    NotAfter = table.Column<DateTime>(type: "TEXT", nullable: false),
                    Owner = table.Column<string>(type: "TEXT", nullable: true),
                    LeaseUntil = table.Column<DateTime>(type: "TEXT", nullable: true),
                    CreatedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    SentAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    LastError = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Outbox", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Outbox_People_PersonId",
                        column: x => x.PersonId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.SetNull);
                });

            migrationBuilder.CreateTable(
                name: "Beds",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    SiteId = table.Column<long>(type: "INTEGER", nullable: false),
                    Name = table.Column<string>(type: "TEXT", nullable: false),
                    SpeciesKey = table.Column<string>(type: "TEXT", nullable: false),
                    Area = table.Column<double>(type: "REAL", nullable: false),
                    InoculatedOn = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    Shade = table.Column<double>(type: "REAL", nullable: false),
                    MulchCm = table.Column<double>(type: "REAL", nullable: false),
                    MulchMaterialKey = table.Column<string>(type: "TEXT", nullable: true),
                    Cover = table.Column<string>(type: "TEXT", nullable: false),
                    Wetness = table.Column<double>(type: "REAL", nullable: false),
                    SpawnRate = table.Column<double>(type: "REAL", nullable: true),
                    Throughfall = table.Column<double>(type: "REAL", nullable: false),
                    RunOn = table.Column<double>(type: "REAL", nullable: false),
                    SunOffset = table.Column<double>(type: "REAL", nullable: false),
                    EvaporationMultiplier = table.Column<double>(type: "REAL", nullable: false),
                    GrowthMultiplier = table.Column<double>(type: "REAL", nullable: false),
                    RetiredOn = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Beds", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Beds_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Forecasts",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    SiteId = table.Column<long>(type: "INTEGER", nullable: false),
                    FeedId = table.Column<long>(type: "INTEGER", nullable: false),
                    IssuedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    FetchedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    FirstDay = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    Days = table.Column<int>(type: "INTEGER", nullable: false),
                    Payload = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Forecasts", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Forecasts_Feeds_FeedId",
                        column: x => x.FeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Forecasts_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "PersonSites",
                columns: table => new
                {
                    PersonId = table.Column<long>(type: "INTEGER", nullable: false),
                    SiteId = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PersonSites", x => new { x.PersonId, x.SiteId });
                    table.ForeignKey(
                        name: "FK_PersonSites_People_PersonId",
                        column: x => x.PersonId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_PersonSites_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "Weather",
                columns: table => new
                {
                    SiteId = table.Column<long>(type: "INTEGER", nullable: false),
                    FeedId = table.Column<long>(type: "INTEGER", nullable: false),
                    Date = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    Tmax = table.Column<double>(type: "REAL", nullable: true),
                    Tmin = table.Column<double>(type: "REAL", nullable: true),
                    Rain = table.Column<double>(type: "REAL", nullable: true),
                    Humidity = table.Column<double>(type: "REAL", nullable: true),
                    DewPoint = table.Column<double>(type: "REAL", nullable: true),
                    Wind = table.Column<double>(type: "REAL", nullable: true),
                    Radiation = table.Column<double>(type: "REAL", nullable: true),
                    FeedEvapotranspiration = table.Column<double>(type: "REAL", nullable: true),
                    TmaxFrom = table.Column<string>(type: "TEXT", nullable: false),
                    TminFrom = table.Column<string>(type: "TEXT", nullable: false),
                    RainFrom = table.Column<string>(type: "TEXT", nullable: false),
                    IssuedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    FetchedAt = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Weather", x => new { x.SiteId, x.FeedId, x.Date });
                    table.ForeignKey(
                        name: "FK_Weather_Feeds_FeedId",
                        column: x => x.FeedId,
                        principalTable: "Feeds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Weather_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "BedLayers",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    BedId = table.Column<long>(type: "INTEGER", nullable: false),
                    MaterialKey = table.Column<string>(type: "TEXT", nullable: false),
                    Depth = table.Column<double>(type: "REAL", nullable: false),
                    LaidOn = table.Column<DateOnly>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_BedLayers", x => x.Id);
                    table.ForeignKey(
                        name: "FK_BedLayers_Beds_BedId",
                        column: x => x.BedId,
                        principalTable: "Beds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "LogEntries",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    BedId = table.Column<long>(type: "INTEGER", nullable: false),
                    On = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    At = table.Column<TimeOnly>(type: "TEXT", nullable: false),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Amount = table.Column<double>(type: "REAL", nullable: true),
                    Text = table.Column<string>(type: "TEXT", nullable: true),
                    Depth = table.Column<double>(type: "REAL", nullable: true),
                    Note = table.Column<string>(type: "TEXT", nullable: true),
                    RecordedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    RecordedBy = table.Column<string>(type: "TEXT", nullable: true),
                    UndoneAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    ReplacesId = table.Column<long>(type: "INTEGER", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_LogEntries", x => x.Id);
                    table.ForeignKey(
                        name: "FK_LogEntries_Beds_BedId",
                        column: x => x.BedId,
                        principalTable: "Beds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_LogEntries_LogEntries_ReplacesId",
                        column: x => x.ReplacesId,
                        principalTable: "LogEntries",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Notices",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    SiteId = table.Column<long>(type: "INTEGER", nullable: false),
                    BedId = table.Column<long>(type: "INTEGER", nullable: true),
                    Kind = table.Column<string>(type: "TEXT", nullable: false),
                    Episode = table.Column<int>(type: "INTEGER", nullable: false),
                    FirstOn = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    Day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    Deadline = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    State = table.Column<string>(type: "TEXT", nullable: false),
                    ClosedOn = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    ClosedWhy = table.Column<string>(type: "TEXT", nullable: true),
                    Amount = table.Column<double>(type: "REAL", nullable: true),
                    Confidence = table.Column<string>(type: "TEXT", nullable: false),
                    Reason = table.Column<string>(type: "TEXT", nullable: false),
                    ConfirmedOn = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    IssuedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    RevisedAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    Version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Notices", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Notices_Beds_BedId",
                        column: x => x.BedId,
                        principalTable: "Beds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Notices_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Outlooks",
                columns: table => new
                {
                    Id = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    BedId = table.Column<long>(type: "INTEGER", nullable: false),
                    On = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    IssuedAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    ModelVersion = table.Column<string>(type: "TEXT", nullable: false),
                    Score = table.Column<double>(type: "REAL", nullable: false),
                    Phase = table.Column<string>(type: "TEXT", nullable: false),
                    Payload = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Outlooks", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Outlooks_Beds_BedId",
                        column: x => x.BedId,
                        principalTable: "Beds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "Mornings",
                columns: table => new
                {
                    SiteId = table.Column<long>(type: "INTEGER", nullable: false),
                    On = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    DoneAt = table.Column<DateTime>(type: "TEXT", nullable: false),
                    Late = table.Column<bool>(type: "INTEGER", nullable: false),
                    ForecastIssueId = table.Column<long>(type: "INTEGER", nullable: true),
                    ForecastIssuedAt = table.Column<DateTime>(type: "TEXT", nullable: true),
                    FeedState = table.Column<string>(type: "TEXT", nullable: false),
                    Note = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Mornings", x => new { x.SiteId, x.On });
                    table.ForeignKey(
                        name: "FK_Mornings_Forecasts_ForecastIssueId",
                        column: x => x.ForecastIssueId,
                        principalTable: "Forecasts",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_Mornings_Sites_SiteId",
                        column: x => x.SiteId,
                        principalTable: "Sites",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "DigestNotices",
                columns: table => new
                {
                    MailId = table.Column<long>(type: "INTEGER", nullable: false),
                    NoticeId = table.Column<long>(type: "INTEGER", nullable: false),
                    Role = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_DigestNotices", x => new { x.MailId, x.NoticeId, x.Role });
                    table.ForeignKey(
                        name: "FK_DigestNotices_Notices_NoticeId",
                        column: x => x.NoticeId,
                        principalTable: "Notices",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_DigestNotices_Outbox_MailId",
                        column: x => x.MailId,
                        principalTable: "Outbox",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_BedLayers_BedId",
                table: "BedLayers",
                column: "BedId");

            migrationBuilder.CreateIndex(
                name: "IX_Beds_SiteId",
                table: "Beds",
                column: "SiteId");

            migrationBuilder.CreateIndex(
                name: "IX_DigestNotices_NoticeId",
                table: "DigestNotices",
                column: "NoticeId");

            migrationBuilder.CreateIndex(
                name: "IX_Feeds_CooperativeId_Key",
                table: "Feeds",
                columns: new[] { "CooperativeId", "Key" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Forecasts_FeedId",
                table: "Forecasts",
                column: "FeedId");

            migrationBuilder.CreateIndex(
                name: "IX_Forecasts_SiteId_FeedId_FetchedAt",
                table: "Forecasts",
                columns: new[] { "SiteId", "FeedId", "FetchedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_LogEntries_BedId_On",
                table: "LogEntries",
                columns: new[] { "BedId", "On" });

            migrationBuilder.CreateIndex(
                name: "IX_LogEntries_ReplacesId",
                table: "LogEntries",
                column: "ReplacesId");

            migrationBuilder.CreateIndex(
                name: "IX_Mornings_ForecastIssueId",
                table: "Mornings",
                column: "ForecastIssueId");

            migrationBuilder.CreateIndex(
                name: "IX_Notices_BedId_Kind_Episode",
                table: "Notices",
                columns: new[] { "BedId", "Kind", "Episode" },
                unique: true,
                filter: "\"BedId\" IS NOT NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Notices_SiteId_Kind_Episode",
                table: "Notices",
                columns: new[] { "SiteId", "Kind", "Episode" },
                unique: true,
                filter: "\"BedId\" IS NULL");

            migrationBuilder.CreateIndex(
                name: "IX_Notices_SiteId_State",
                table: "Notices",
                columns: new[] { "SiteId", "State" });

            migrationBuilder.CreateIndex(
                name: "IX_Outbox_Key",
                table: "Outbox",
                column: "Key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Outbox_MessageId",
                table: "Outbox",
                column: "MessageId",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_Outbox_PersonId",
                table: "Outbox",
                column: "PersonId");

            migrationBuilder.CreateIndex(
                name: "IX_Outbox_State_NotAfter",
                table: "Outbox",
                columns: new[] { "State", "NotAfter" });

            migrationBuilder.CreateIndex(
                name: "IX_Outlooks_BedId_On",
                table: "Outlooks",
                columns: new[] { "BedId", "On" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_People_CooperativeId_EmailNormalized",
                table: "People",
                columns: new[] { "CooperativeId", "EmailNormalized" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_PersonSites_SiteId",
                table: "PersonSites",
                column: "SiteId");

            migrationBuilder.CreateIndex(
                name: "IX_Sites_CooperativeId",
                table: "Sites",
                column: "CooperativeId");

            migrationBuilder.CreateIndex(
                name: "IX_Sites_ForecastFeedId",
                table: "Sites",
                column: "ForecastFeedId");

            migrationBuilder.CreateIndex(
                name: "IX_Sites_HistoryFeedId",
                table: "Sites",
                column: "HistoryFeedId");

            migrationBuilder.CreateIndex(
                name: "IX_Weather_FeedId",
                table: "Weather",
                column: "FeedId");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "BedLayers");

            migrationBuilder.DropTable(
                name: "DigestNotices");

            migrationBuilder.DropTable(
                name: "LogEntries");

            migrationBuilder.DropTable(
                name: "Mornings");

            migrationBuilder.DropTable(
                name: "Outlooks");

            migrationBuilder.DropTable(
                name: "PersonSites");

            migrationBuilder.DropTable(
                name: "Settings");

            migrationBuilder.DropTable(
                name: "Weather");

            migrationBuilder.DropTable(
                name: "Notices");

            migrationBuilder.DropTable(
                name: "Outbox");

            migrationBuilder.DropTable(
                name: "Forecasts");

            migrationBuilder.DropTable(
                name: "Beds");

            migrationBuilder.DropTable(
                name: "People");

            migrationBuilder.DropTable(
                name: "Sites");

            migrationBuilder.DropTable(
                name: "Feeds");

            migrationBuilder.DropTable(
                name: "Cooperatives");
        }
    }
}
