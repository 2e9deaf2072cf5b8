using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace FruitWatch.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class BedsLeftOut : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "PersonBedsLeftOut",
                columns: table => new
                {
                    PersonId = table.Column<long>(type: "INTEGER", nullable: false),
                    BedId = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_PersonBedsLeftOut", x => new { x.PersonId, x.BedId });
                    table.ForeignKey(
                        name: "FK_PersonBedsLeftOut_Beds_BedId",
                        column: x => x.BedId,
                        principalTable: "Beds",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_PersonBedsLeftOut_People_PersonId",
                        column: x => x.PersonId,
                        principalTable: "People",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "IX_PersonBedsLeftOut_BedId",
                table: "PersonBedsLeftOut",
                column: "BedId");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "PersonBedsLeftOut");
        }
    }
}
