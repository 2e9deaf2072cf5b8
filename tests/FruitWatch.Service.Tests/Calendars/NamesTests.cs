using System.Text;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>Names that mean harm stay text in a calendar (test 30; ASVS 5.0 1.2.1 and 1.2.10; RFC 5545 §3.1 and §3.3.11).</summary>
public sealed class NamesTests(OneCalendarRun running) : IClassFixture<OneCalendarRun>
{
    public static TheoryData<string> Names =>
    [
        "Bed\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nSUMMARY:injected",
        "Bed\nATTENDEE:mailto:victim@example.org",
        "Bed\r ATTACH:https://evil.example/",
        "Bed\u2028X-EVIL:1\u2029X-EVIL:2\u0085X-EVIL:3\u000bX-EVIL:4",
        "=cmd|' /C calc'!A0",
        "<script>alert(1)</script><img src=x onerror=alert(1)>",
        "\u202eGNIHTON\u202c \u2066isolated\u2069 \u200eleft\u200f",
        "🍄👩🏽‍🌾🏴󠁧󠁢󠁳󠁣󠁴󠁿 Bänke, où les cèpes; poussent\\n: \"vite\"",
        "a,b;c:d\\e\\,f\\;g\\N,,;;\\\\",
        "\"quoted\";X-P=1:value",
        new string('é', 10_000),
        string.Concat(Enumerable.Repeat("👩🏽‍🌾", 2_000)),
        new string(',', 74) + "\ud83c",
    ];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task They_are_one_line_of_text_in_lines_of_75_octets(string name)
    {
        var run = running.Run;
        await using (var store = run.Service.Store())
        {
            // Past the forms, which would refuse most of them.
            (await store.Beds.SingleAsync(row => row.Id == run.Invented.Hazels, TestContext.Current.CancellationToken)).Name = name;
            (await store.Sites.SingleAsync(row => row.Id == run.Invented.AlderLane, TestContext.Current.CancellationToken)).Name = name;
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        var member = await run.JoinAsync(Role.Viewer, $"Someone {Guid.NewGuid():N}");
        var text = await run.TextAsync(await run.MakeAsync(member, run.Invented.AlderLane));
        Assert.EndsWith("\r\n", text, StringComparison.Ordinal);
        var lines = text[..^2].Split("\r\n");
        Assert.All(lines, line =>
        {
            // Cut between characters, each line is UTF-8 by itself. Ical.Net alone cuts emoji in two, of which U+FFFD was left.
            Assert.InRange(Encoding.UTF8.GetByteCount(line), 1, 75);
            if (!char.IsSurrogate(name[^1]) || char.IsLowSurrogate(name[^1]))
                Assert.DoesNotContain('\uFFFD', line);
            Assert.DoesNotContain(line, character => char.IsControl(character) || character is '\u2028' or '\u2029' or '\u202e' or '\u2066');
        });

        var calendar = await OtherReader.ReadAsync(text);
        Assert.Equal(lines.Count(line => line == "BEGIN:VEVENT"), calendar.Events.Count);
        string[] known =
        [
            "categories", "created", "description", "dtend", "dtstamp", "dtstart", "last-modified", "location", "sequence", "status", "summary", "transp", "uid", "url",
        ];
        Assert.All(calendar.Events, one => Assert.Equal(known, one.Names.Order(StringComparer.Ordinal)));
        Assert.DoesNotContain(calendar.Properties.Keys, property => property.StartsWith("x-evil", StringComparison.Ordinal));

        var shown = Service.Channels.Email.OneLine.Of(name, 80);
        Assert.NotEmpty(shown);
        var water = calendar[$"water-1-bed-{run.Invented.Hazels}@"];
        Assert.Equal(shown, water.Location);
        Assert.StartsWith(shown + " · Water", water.Summary, StringComparison.Ordinal);
        // A property newer than this reader: its value comes as it was written, escapes included.
        string Escaped(string plain) => plain.Replace("\\", "\\\\", StringComparison.Ordinal).Replace(";", "\\;", StringComparison.Ordinal).Replace(",", "\\,", StringComparison.Ordinal);
        Assert.Equal($"FruitWatch: {Escaped(shown)}", calendar.Properties["name"]);
    }
}
