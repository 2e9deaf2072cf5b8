using System.Text.Encodings.Web;
using System.Text.Json;
using FruitWatch.Service.Log;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Api;

public sealed class DescriptionTests(OneService running) : IClassFixture<OneService>
{
    private static readonly JsonSerializerOptions s_readable =
        new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>A change of the API shows in docs/openapi.json. To take it over, run this test with FRUITWATCH_ACCEPT=1.</summary>
    [Fact]
    public async Task The_api_is_what_its_description_in_docs_says()
    {
        using var http = running.Service.Client();
        var served = JsonSerializer.Serialize(
            JsonDocument.Parse(await http.GetStringAsync("/openapi/v1.json")).RootElement,
            s_readable) + "\n";
        var file = Path.Combine(Repository(), "docs", "openapi.json");
        if (Environment.GetEnvironmentVariable("FRUITWATCH_ACCEPT") == "1")
            await File.WriteAllTextAsync(file, served);
        Assert.True(
            served == await File.ReadAllTextAsync(file),
            "The web API is no longer what docs/openapi.json says. If that is meant, run this test with FRUITWATCH_ACCEPT=1 and commit the file.");
    }

    [Fact]
    public async Task Every_operation_has_a_name_a_summary_and_described_parameters()
    {
        using var http = running.Service.Client();
        using var description = JsonDocument.Parse(await http.GetStringAsync("/openapi/v1.json"));
        var names = new HashSet<string>();
        foreach (var operation in description.RootElement.GetProperty("paths").EnumerateObject().SelectMany(path => path.Value.EnumerateObject()).Select(o => o.Value))
        {
            Assert.True(names.Add(operation.GetProperty("operationId").GetString()!));
            Assert.NotEmpty(operation.GetProperty("summary").GetString()!);
            if (operation.TryGetProperty("parameters", out var parameters))
                Assert.All(parameters.EnumerateArray(), parameter => Assert.True(parameter.TryGetProperty("description", out _) || parameter.TryGetProperty("$ref", out _)));
        }

        Assert.Equal(84, names.Count);
    }

    [Fact]
    public async Task Days_and_moments_are_strings_with_a_format_and_every_kind_of_entry_is_named()
    {
        using var http = running.Service.Client();
        using var description = JsonDocument.Parse(await http.GetStringAsync("/openapi/v1.json"));
        var schemas = description.RootElement.GetProperty("components").GetProperty("schemas");
        Assert.Equal("date", schemas.GetProperty("LocalDate").GetProperty("format").GetString());
        Assert.Equal("date-time", schemas.GetProperty("Instant").GetProperty("format").GetString());
        Assert.Equal("number", schemas.GetProperty("AccountDayBody").GetProperty("properties").GetProperty("bedC").GetProperty("type").GetString());
        var kinds = schemas.GetProperty("LogEntryChange").GetProperty("properties").GetProperty("kind").GetProperty("description").GetString()!;
        Assert.All(LogKinds.All, kind => Assert.Contains(kind, kinds, StringComparison.Ordinal));
    }

    internal static string Repository()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "FruitWatch.sln")))
            folder = folder.Parent ?? throw new DirectoryNotFoundException("FruitWatch.sln is in no folder above the tests.");
        return folder.FullName;
    }
}
