using System.Text;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>Whole mails, as read and found good; see Golden/README.md. Where FRUITWATCH_GOLDEN names a folder they are written there, to be read again.</summary>
public sealed class GoldenTests
{
    public static TheoryData<string> Mails => ["busy-en", "busy-es", "quiet-en", "stale-en", "urgent-en", "urgent-es", "taken-en"];

    [Theory]
    [MemberData(nameof(Mails))]
    public async Task A_mail_reads_as_it_was_found_good(string name)
    {
        var language = name[^2..];
        var digest = name.Split('-')[0] switch
        {
            "busy" => Mornings.Busy(language),
            "quiet" => Mornings.Quiet(language),
            "urgent" => Mornings.UrgentOne(language),
            "taken" => Mornings.TakenBack(language),
            _ => Mornings.Stale(language),
        };

        var form = name.Split('-')[0] switch
        {
            "urgent" => LetterForm.Urgent,
            "taken" => LetterForm.TakenBack,
            _ => LetterForm.Morning,
        };
        var mail = DigestWriter.Write(digest, Words.For(language), form);

        (string File, string Written)[] parts = [($"{name}.txt", $"Subject: {mail.Subject}\n\n{mail.Text}"), ($"{name}.html", mail.Html)];
        foreach (var (file, written) in parts)
        {
            if (Environment.GetEnvironmentVariable("FRUITWATCH_GOLDEN") is { } folder)
                await File.WriteAllTextAsync(Path.Combine(folder, file), written, new UTF8Encoding(false));
        }

        foreach (var (file, written) in parts)
            Assert.Equal(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Digests", "Golden", file)), written);
    }
}
