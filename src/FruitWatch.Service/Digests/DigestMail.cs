namespace FruitWatch.Service.Digests;

/// <summary>A digest ready for the outbox. Text and HTML say the same.</summary>
/// <param name="Subject">One line.</param>
/// <param name="Text">Plain text.</param>
/// <param name="Html">A whole HTML page.</param>
internal sealed record DigestMail(string Subject, string Text, string Html);
