using System.Reflection;
using FruitWatch.Model.Account;

namespace FruitWatch.Model.Tests;

public class PurityTests
{
    /// <summary>The tools of a program that reads, writes, waits or talks: the model computes, and does none of it.</summary>
    private static readonly string[] s_outside =
    [
        "System.Net", "System.Data", "System.Diagnostics.Process", "System.IO.FileSystem", "System.IO.Pipes", "System.Console",
        "Microsoft.Win32", "System.Security.Cryptography",
    ];

    [Fact]
    public void The_model_references_nothing_but_the_base_class_library_and_NodaTime()
    {
        var library = Path.GetDirectoryName(typeof(object).Assembly.Location)!;
        var others = References().Where(name => !File.Exists(Path.Combine(library, $"{name}.dll")));

        Assert.Equal(["NodaTime"], others);
    }

    [Fact]
    public void Of_the_base_class_library_it_uses_nothing_that_reads_writes_or_talks() =>
        Assert.DoesNotContain(References(), name => s_outside.Any(outside => name.StartsWith(outside, StringComparison.Ordinal)));

    [Fact]
    public void No_type_of_the_model_keeps_something_that_can_change_in_a_static_field()
    {
        var fields = typeof(BedAccount).Assembly.GetTypes()
            .SelectMany(type => type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly))
            .Where(field => !field.IsInitOnly && !field.IsLiteral && !field.Name.StartsWith('<'));

        Assert.Empty(fields.Select(field => $"{field.DeclaringType}.{field.Name}"));
    }

    private static List<string> References() =>
        [.. typeof(BedAccount).Assembly.GetReferencedAssemblies().Select(reference => reference.Name!)];
}
