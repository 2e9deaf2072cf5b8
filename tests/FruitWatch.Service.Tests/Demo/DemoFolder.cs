namespace FruitWatch.Service.Tests.Demo;

/// <summary>A folder for one test; gone afterwards.</summary>
internal sealed class DemoFolder : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fruitwatch-demo-");

    public string Path => folder.FullName;

    public IReadOnlyList<string> Mails => Directory.GetFiles(System.IO.Path.Combine(Path, "mail"), "*.eml");

    public void Dispose()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        folder.Delete(recursive: true);
    }
}
