using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace FruitWatch.Store.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class OutboxSentAt : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateIndex(
                name: "IX_Outbox_SentAt",
                table: "Outbox",
                column: "SentAt");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Outbox_SentAt",
                table: "Outbox");
        }
    }
}
