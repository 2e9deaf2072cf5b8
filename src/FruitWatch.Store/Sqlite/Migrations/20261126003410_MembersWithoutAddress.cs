using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace FruitWatch.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class MembersWithoutAddress : Migration
    {
        private static readonly string[] columns = new[] { "CooperativeId", "EmailNormalized" };

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_People_CooperativeId_EmailNormalized",
                table: "People");

            migrationBuilder.CreateIndex(
                name: "IX_People_CooperativeId_EmailNormalized",
                table: "People",
                columns: columns,
                unique: true,
                filter: "\"EmailNormalized\" <> ''");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_People_CooperativeId_EmailNormalized",
                table: "People");

            migrationBuilder.CreateIndex(
                name: "IX_People_CooperativeId_EmailNormalized",
                table: "People",
                columns: columns,
                unique: true);
        }
    }
}
