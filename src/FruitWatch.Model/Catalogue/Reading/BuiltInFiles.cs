using System.Reflection;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>The catalogue files inside the program itself.</summary>
internal static class BuiltInFiles
{
    private static readonly Assembly s_program = typeof(BuiltInFiles).Assembly;

    public static IEnumerable<string> Names(string folder) =>
        s_program.GetManifestResourceNames().Where(name => name.StartsWith(folder, StringComparison.Ordinal)).Order(StringComparer.Ordinal);

    public static string Read(string name)
    {
        using var stream = s_program.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The program was built without {name}.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
