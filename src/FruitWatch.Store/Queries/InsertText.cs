using System.Data.Common;
using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace FruitWatch.Store.Queries;

/// <summary>
/// An INSERT of several rows, made from the model so that names and conversions are those of the mapping. The text is the same for
/// both databases; whoever uses it adds what is to be done with a row that is there already.
/// </summary>
/// <param name="Sql">Up to the last VALUES row.</param>
/// <param name="Parameters">Values, row by row.</param>
internal sealed record InsertText(string Sql, IReadOnlyList<object> Parameters)
{
    /// <summary>Rows per statement: quick, and far from the limits on parameters (SQLite 32 766, PostgreSQL 65 535).</summary>
    public const int RowsAtOnce = 100;

    public static InsertText For<T>(FruitWatchStore store, IReadOnlyList<T> rows)
        where T : class
    {
        var table = store.Model.FindEntityType(typeof(T))!;
        var columns = table.GetProperties().Where(column => column.ValueGenerated == ValueGenerated.Never).ToList();
        var sql = new StringBuilder("INSERT INTO ").Append(Quoted(table.GetTableName()!)).Append(" (")
            .AppendJoin(", ", columns.Select(column => Quoted(column.GetColumnName()))).Append(") VALUES ");
        var parameters = new List<object>(rows.Count * columns.Count);
        using var maker = store.Database.GetDbConnection().CreateCommand();
        for (var row = 0; row < rows.Count; row++)
        {
            sql.Append(row == 0 ? "(" : ", (");
            for (var i = 0; i < columns.Count; i++)
            {
                var name = "@v" + parameters.Count.ToString(CultureInfo.InvariantCulture);
                sql.Append(i == 0 ? "" : ", ").Append(name);
                parameters.Add(Parameter(maker, columns[i], name, rows[row]));
            }

            sql.Append(')');
        }

        return new InsertText(sql.ToString(), parameters);
    }

    private static DbParameter Parameter(DbCommand maker, IProperty column, string name, object row) =>
        column.GetRelationalTypeMapping().CreateParameter(maker, name, column.GetGetter().GetClrValue(row), column.IsNullable);

    private static string Quoted(string name) => $"\"{name}\"";
}
