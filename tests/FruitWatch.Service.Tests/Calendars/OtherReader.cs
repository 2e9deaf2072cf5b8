using System.ComponentModel;
using System.Diagnostics;
using System.Text;
using System.Text.Json;
using FruitWatch.Service.Tests.Api;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>A calendar as somebody else's program reads it.</summary>
internal sealed record ReadCalendar(IReadOnlyDictionary<string, string> Properties, IReadOnlyList<string> Others, IReadOnlyList<string> Shifted, IReadOnlyList<ReadEvent> Events)
{
    public ReadEvent this[string uidBegins] => Events.Single(one => one.Uid.StartsWith(uidBegins, StringComparison.Ordinal));
}

/// <summary>An event as somebody else's program reads it.</summary>
internal sealed record ReadEvent(
    string Uid, int Sequence, string Stamp, string Modified, string Created, string Start, string End, bool AllDay, string? Zone, string Busy, string Status,
    string Summary, string Description, string Location, string Url, IReadOnlyList<string> Categories, IReadOnlyList<string> Names);

/// <summary>Reads calendars with ical.js under Node, which shares nothing with the library that wrote them.</summary>
internal static class OtherReader
{
    public static async Task<ReadCalendar> ReadAsync(string calendar, IEnumerable<string>? zones = null)
    {
        var folder = Path.Combine(DescriptionTests.Repository(), "tests", "calendar");
        Assert.True(
            Directory.Exists(Path.Combine(folder, "node_modules", "ical.js")),
            "The tests read calendars with ical.js, which is not there. Run tests/calendar/install (it needs Node and npm), or tests/run.");
        var start = new ProcessStartInfo("node", ["read.mjs"])
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardInputEncoding = new UTF8Encoding(false),
            StandardOutputEncoding = Encoding.UTF8,
        };
        Process node;
        try
        {
            node = Process.Start(start)!;
        }
        catch (Win32Exception)
        {
            throw new InvalidOperationException("The tests read calendars with ical.js under Node, and there is no node. Install it (Debian: apt-get install nodejs npm), or run tests/run.");
        }

        using (node)
        {
            await node.StandardInput.WriteAsync(JsonSerializer.Serialize(new { calendar, zones }));
            node.StandardInput.Close();
            var errors = node.StandardError.ReadToEndAsync();
            var read = await node.StandardOutput.ReadToEndAsync();
            await node.WaitForExitAsync();
            Assert.True(node.ExitCode == 0, $"ical.js does not read it: {await errors}\n{calendar}");
            return JsonSerializer.Deserialize<ReadCalendar>(read, JsonSerializerOptions.Web)!;
        }
    }
}
