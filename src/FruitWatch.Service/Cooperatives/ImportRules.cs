using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Log;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Cooperatives;

/// <summary>What holds for rows whichever way they come in: the rules of the forms and the API, and those of the store's keys.</summary>
internal static class ImportRules
{
    private const int LongestName = 200;

    /// <param name="table">Which table.</param>
    /// <param name="rows">Its rows, references still in the numbers of the file.</param>
    /// <param name="catalogue">Species and materials.</param>
    /// <param name="localReceivers">Where the operator allows webhooks on the own network.</param>
    /// <param name="note">Takes a place and what is wrong there.</param>
    public static void Check(
        ExportTable table, IReadOnlyList<object> rows, BedCatalogue catalogue, IReadOnlySet<string> localReceivers, Action<string, string> note)
    {
        for (var i = 0; i < rows.Count; i++)
        {
            var at = table.Name == "cooperative" ? table.Name : string.Create(CultureInfo.InvariantCulture, $"{table.Name}[{i}]");
            Check(rows[i], at, catalogue, localReceivers, note);
        }

        Twice(table, rows, note);
    }

    private static void Check(object row, string at, BedCatalogue catalogue, IReadOnlySet<string> localReceivers, Action<string, string> note)
    {
        switch (row)
        {
            case Cooperative cooperative:
                Name(cooperative.Name, $"{at}.name", note);
                break;
            case Feed feed:
                Name(feed.Title, $"{at}.title", note);
                // It becomes the name of a file.
                if (feed.Key.Length is 0 or > 80 || feed.Key.Any(c => !char.IsAsciiLetterOrDigit(c) && c is not ('-' or '_')))
                    note($"{at}.key", "expected up to 80 letters, digits, hyphens and underscores");
                break;
            case Site site:
                Name(site.Name, $"{at}.name", note);
                Zone(site.ZoneId, $"{at}.zoneId", note);
                if (site is not { Latitude: >= -90 and <= 90, Longitude: >= -180 and <= 180, Elevation: >= -430 and <= 9000 })
                    note(at, "is no place on the ground: latitude, longitude or elevation is out of range");
                break;
            case Person person:
                Name(person.Name, $"{at}.name", note);
                if (!MailOptions.IsOneAddress(person.Email.Trim()))
                    note($"{at}.email", "expected one e-mail address");
                if (person.ZoneId is { } zone)
                    Zone(zone, $"{at}.zoneId", note);
                break;
            case Bed bed:
                Name(bed.Name, $"{at}.name", note);
                if (!catalogue.Species.ContainsKey(bed.SpeciesKey))
                    note($"{at}.speciesKey", "is no species that is known here");
                break;
            case BedLayer layer when !catalogue.Materials.ContainsKey(layer.MaterialKey):
                note($"{at}.materialKey", "is no material that is known here");
                break;
            case LogEntry entry:
                Entry(entry, at, catalogue, note);
                break;
            case IssuedNotice notice:
                Notice(notice, at, note);
                break;
            case Webhook webhook:
                Name(webhook.Name, $"{at}.name", note);
                if (WebhookAddress.Check(webhook.Address, localReceivers) is not null)
                    note($"{at}.address", "is no address that webhooks may be sent to");
                if (WebhookEvents.Of(webhook) is var events && (events.Count == 0 || events.Except(WebhookEvents.All).Any()))
                    note($"{at}.events", $"expected names, parted by spaces, of {string.Join(", ", WebhookEvents.All)}");
                break;
        }
    }

    private static void Entry(LogEntry entry, string at, BedCatalogue catalogue, Action<string, string> note)
    {
        if (entry.Note?.Length > LogBook.LongestNote)
            note($"{at}.note", "is too long");
        try
        {
            // The area is that of any bed: what can be wrong does not hang on it.
            LogKinds.ToModel(entry, 1, catalogue);
        }
        catch (LogEntryException wrong)
        {
            note($"{at}.{wrong.FieldName}", wrong.Message.TrimEnd('.'));
        }
    }

    private static void Notice(IssuedNotice notice, string at, Action<string, string> note)
    {
        try
        {
            NoticeRows.Draft(notice);
            NoticeRows.ClosingOf(notice);
        }
        catch (Exception wrong) when (wrong is ArgumentException or System.Text.Json.JsonException or InvalidOperationException or NotSupportedException)
        {
            note(at, "has a kind, a confidence or a reason that is not known here");
        }
    }

    private static void Name(string name, string at, Action<string, string> note)
    {
        if (string.IsNullOrWhiteSpace(name) || name.Length > LongestName || name.Any(char.IsControl))
            note(at, $"expected a name of 1 to {LongestName} characters, on one line");
    }

    private static void Zone(string zone, string at, Action<string, string> note)
    {
        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null)
            note(at, "is not a time zone that is known here");
    }

    // The keys of the store: what is there once must not come twice.
    private static void Twice(ExportTable table, IReadOnlyList<object> rows, Action<string, string> note)
    {
        var unique = table.Kept.GetKeys().Select(key => (key.Properties, Filter: (string?)null))
            .Concat(table.Kept.GetIndexes().Where(index => index.IsUnique).Select(index => (index.Properties, Filter: index.GetFilter())))
            .Select(key => (
                Parts: key.Properties.Where(part => part.Name != nameof(Site.CooperativeId)).Select(part => table.Kept.ClrType.GetProperty(part.Name)).ToList(),
                Absent: table.Kept.GetProperties().Where(one => key.Filter == $"\"{one.Name}\" IS NULL").Select(one => table.Kept.ClrType.GetProperty(one.Name)).SingleOrDefault()))
            .Where(key => key.Parts.Count > 0 && key.Parts.TrueForAll(part => part is not null && part.Name != "Id"));
        foreach (var (key, absent) in unique)
        {
            var seen = new HashSet<string>(StringComparer.Ordinal);
            for (var i = 0; i < rows.Count; i++)
            {
                var values = key.ConvertAll(part => part!.GetValue(rows[i]));
                if (values.Contains(null) || absent?.GetValue(rows[i]) is not null)
                    continue;
                if (!seen.Add(string.Join('\u001f', values.Select(value => Convert.ToString(value, CultureInfo.InvariantCulture)))))
                    note(string.Create(CultureInfo.InvariantCulture, $"{table.Name}[{i}]"), $"is there twice, by {string.Join(", ", key.Select(part => part!.Name))}");
            }
        }
    }
}
