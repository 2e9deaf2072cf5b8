using FruitWatch.Model.Notices;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>Where the buttons and the last lines of a person's letter lead.</summary>
/// <param name="Stop">Ends such letters.</param>
/// <param name="Wishes">What they are told, and when.</param>
/// <param name="Deeds">What they can say of a notice with one tap, and where it leads.</param>
internal sealed record OwnLinks(string Stop, string Wishes, Func<IssuedNotice, NoticeDraft, IReadOnlyList<(Deed Deed, string Address)>> Deeds);

/// <summary>Makes the links of letters.</summary>
internal sealed class LetterLinks(MailKey key, DeedLinks deeds, StopLinks stops, ServiceOptions options)
{
    /// <inheritdoc cref="MailKey.Prepare"/>
    public void Prepare() => key.Prepare();

    /// <summary>The links of one reader's letter.</summary>
    public OwnLinks For(Reader reader, StopTopic topic, Instant now) => new(
        stops.AddressOf(new StopLink(reader.Person.Id, topic)),
        options.BaseUrl.AbsoluteUri.TrimEnd('/') + "/account/mail",
        (notice, draft) =>
        [
            .. DeedsOffered.For(draft)
                // To be reminded is for everybody; to say what was done, for those who may.
                .Where(deed => deed == Deed.Snooze || reader.MayLog(notice.BedId!.Value))
                .Select(deed => (deed, deeds.AddressOf(new DeedLink(deed, notice.Id, notice.Revisions, reader.Person.Id, now + DeedLinks.For)))),
        ]);
}
