using System.Text;

namespace FruitWatch.Model.Tests;

/// <summary>Reads a table of check values: CSV with a header, quoted where a cell holds a comma.</summary>
internal static class CheckFile
{
    public static List<Dictionary<string, string>> Read(string path)
    {
        var lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Checks", path));
        var header = Cells(lines[0]);
        return
        [
            .. lines.Skip(1).Where(line => line.Length > 0).Select(line =>
                header.Zip(Cells(line)).ToDictionary(cell => cell.First, cell => cell.Second)),
        ];
    }

    private static List<string> Cells(string line)
    {
        List<string> cells = [];
        var cell = new StringBuilder();
        var quoted = false;
        for (var i = 0; i < line.Length; i++)
        {
            if (line[i] == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"')
                cell.Append(line[i++]);
            else if (line[i] == '"')
                quoted = !quoted;
            else if (line[i] == ',' && !quoted)
                Finish();
            else
                cell.Append(line[i]);
        }

        Finish();
        return cells;

        void Finish()
        {
            cells.Add(cell.ToString());
            cell.Clear();
        }
    }
}
