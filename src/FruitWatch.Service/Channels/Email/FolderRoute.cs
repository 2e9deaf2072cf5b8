using System.Globalization;
using System.Text;
using FruitWatch.Store.Entities;
using MimeKit;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Writes mails as files, each openable in a mail reader: for trying out, and for a site without a relay.</summary>
internal sealed class FolderRoute(string folder) : IMailRoute
{
    private const int LongestAddress = 80;
    private const int DayLength = 10; // 2026-10-05

    public async Task<Delivery> DeliverAsync(OutgoingMail mail, MimeMessage message, CancellationToken limit)
    {
        var file = Path.Combine(folder, NameOf(mail));
        var unfinished = $"{file}.{Guid.NewGuid():N}.tmp";
        try
        {
            Directory.CreateDirectory(folder);
            try
            {
                // Whoever watches the folder sees whole mails only.
                await message.WriteToAsync(unfinished, limit);
                File.Move(unfinished, file, overwrite: true);
            }
            finally
            {
                File.Delete(unfinished);
            }

            return new Delivery(Outcome.Sent);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException or OperationCanceledException)
        {
            return new Delivery(Outcome.RouteClosed, OneLine.Of($"{refused.GetType().Name}: {refused.Message}", 300));
        }
    }

    /// <summary>Deletes the files of mails that are deleted.</summary>
    public static void Delete(string folder, IEnumerable<long> mailIds)
    {
        if (!Directory.Exists(folder))
            return;
        var gone = mailIds.Select(id => id.ToString(CultureInfo.InvariantCulture)).ToHashSet();
        foreach (var file in Directory.EnumerateFiles(folder))
        {
            // 2026-10-05-17-iris@example.org.eml
            if (Path.GetFileName(file).Split('-', 5) is [_, _, _, var id, _] && gone.Contains(id))
                File.Delete(file);
        }
    }

    /// <summary>Deletes the files of mails that were written before a day.</summary>
    public static void DeleteBefore(string folder, LocalDate day)
    {
        if (!Directory.Exists(folder))
            return;
        foreach (var file in Directory.EnumerateFiles(folder, "*.eml"))
        {
            if (LocalDatePattern.Iso.Parse(Path.GetFileName(file)[..Math.Min(DayLength, Path.GetFileName(file).Length)]) is { Success: true, Value: var written } && written < day)
                File.Delete(file);
        }
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private static string NameOf(OutgoingMail mail)
    {
        var day = LocalDatePattern.Iso.Format(mail.CreatedAt.InUtc().Date);
        var address = new StringBuilder();
        foreach (var letter in mail.ToAddress.Trim().ToLowerInvariant())
            address.Append(char.IsAsciiLetterOrDigit(letter) || letter is '.' or '-' or '_' or '+' or '@' ? letter : '_');
        if (address.Length > LongestAddress)
            address.Length = LongestAddress;
        return string.Create(CultureInfo.InvariantCulture, $"{day}-{mail.Id}-{address}.eml");
    }
}
