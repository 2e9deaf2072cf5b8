using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Urgent;

/// <summary>Writes to one reader about what cannot wait: only that, with the weather it rests on.</summary>
internal sealed class UrgentLetters(Reader reader, IReadOnlyList<SiteBook> books, BedCatalogue catalogue, LetterLinks links, ServiceOptions options)
{
    /// <summary>A letter about some notices.</summary>
    public DigestMail Write(IReadOnlyList<IssuedNotice> notices, LetterForm form, Instant now)
    {
        var items = notices.ToLookup(n => n.BedId!.Value, n => new DigestItem(UrgentRound.RoleOf(form, n), n));
        var told = books.Where(site => notices.Any(n => n.SiteId == site.Row.Id)).ToList();
        var sites = told.Select(site => DigestSites.Of(site, catalogue, reader, items, [])).ToList();
        var digest = new Digest(
            reader.Person,
            told[0].Today,
            CooperativeName,
            [.. sites.Select(site => site with { Beds = [.. site.Beds.Where(bed => bed.Items.Count > 0)] })],
            Late: false)
        {
            BaseUrl = options.BaseUrl,
            For = reader.For,
            Links = links.For(reader, StopTopic.Urgent, now),
        };
        return DigestWriter.Write(digest, Words.For(reader.Person.Language, reader.Person.Units), form);
    }

    /// <summary>For the sender's name and the foot of the mail.</summary>
    public required string CooperativeName { get; init; }
}
